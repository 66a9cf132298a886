// Sentences about what went wrong (they stay until closed) or was done (they go by themselves), read out by screen readers.
import type { WindowState } from '../state/windowState.ts';
import type { Actions } from './actions.ts';

export function Messages({ state, actions }: { readonly state: WindowState; readonly actions: Actions }) {
  return (
    <div class="messages" aria-live="polite">
      {state.messages.map(({ id, kind, sentence }) => (
        <div key={id} class={`message ${kind}`} role={kind === 'error' ? 'alert' : undefined}>
          <span>{sentence}</span>
          <button type="button" aria-label="Close this message" onClick={() => actions.dismiss(id)}>
            ×
          </button>
        </div>
      ))}
    </div>
  );
}
