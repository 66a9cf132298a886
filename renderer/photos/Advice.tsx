// What would make a photo better, in plain words before the person goes on, and the switch of the map of trust.
import type { Actions } from '../app/actions.ts';
import type { Shown, WindowState } from '../state/windowState.ts';

interface Props {
  readonly advice: readonly { readonly code: string; readonly message: string }[];
  readonly kind: Shown['kind'];
  readonly state: WindowState;
  readonly actions: Actions;
}

export function Advice({ advice, kind, state, actions }: Props) {
  return (
    <section aria-label="Quality of this photo">
      {advice.length === 0 ? (
        <p>Nothing would make this photo better for measuring.</p>
      ) : (
        <>
          <h4>To make it better</h4>
          <ul class="notes">
            {advice.map(({ code, message }) => (
              <li key={`${code} ${message}`}>{message}</li>
            ))}
          </ul>
        </>
      )}
      <label class="check">
        <input
          type="checkbox"
          checked={state.trustShown[kind]}
          onChange={(event) =>
            actions.patch({ trustShown: { ...state.trustShown, [kind]: event.currentTarget.checked } })
          }
        />
        <span>Show where lengths can be trusted</span>
      </label>
    </section>
  );
}
