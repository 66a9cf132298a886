// The tools for correcting a piece by hand, on the canvas beside the piece.
import type { Actions } from '../app/actions.ts';
import type { WindowState } from '../state/windowState.ts';
import { TOOLS } from '../tools/registry.ts';

export function ToolRail({ state, actions }: { readonly state: WindowState; readonly actions: Actions }) {
  if (state.selection.piece === null) return null;
  return (
    <div class="rail" role="toolbar" aria-label="Correct by hand" aria-orientation="vertical">
      {TOOLS.map((tool) => (
        <button
          key={tool.id}
          type="button"
          aria-pressed={state.tool === tool.id}
          title={`${tool.hint} (${tool.key.toUpperCase()})`}
          onClick={() => actions.patch({ tool: tool.id })}
        >
          <svg
            viewBox="0 0 24 24"
            width="22"
            height="22"
            fill="none"
            stroke="currentColor"
            stroke-width="1.8"
            stroke-linejoin="round"
            aria-hidden="true"
            dangerouslySetInnerHTML={{ __html: tool.icon }}
          />
          <span>{tool.name}</span>
        </button>
      ))}
    </div>
  );
}
