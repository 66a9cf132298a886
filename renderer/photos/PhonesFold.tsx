// What photos have taught about the lenses of this person's phones: seen here, and forgotten when it is wrong or unwanted.
import { useEffect } from 'preact/hooks';
import type { Actions } from '../app/actions.ts';
import { Fold } from '../app/Field.tsx';
import type { WindowState } from '../state/windowState.ts';

type Phone = NonNullable<WindowState['capture']['phones']>[number];

export function PhonesFold({ state, actions }: { readonly state: WindowState; readonly actions: Actions }) {
  const { phones } = state.capture;
  useEffect(() => {
    if (phones === null) void actions.listPhones();
  }, []);
  return (
    <Fold title={`Known phones (${phones?.length ?? 0})`}>
      <p>
        A photo with several cards teaches the lens of the phone that took it; later photos with fewer cards are then
        surer. It stays on this computer.
      </p>
      {phones?.length === 0 && <p>No photo has taught anything yet.</p>}
      <ul class="list">
        {phones?.map((phone) => (
          <li key={phone.key} class="tape-row">
            <p>
              <strong>{phone.name}</strong>
              <small>{sentenceOf(phone)}</small>
            </p>
            <button
              type="button"
              class="danger"
              aria-label={`Forget ${phone.name} at ${phone.focal35Mm} mm`}
              onClick={() => void actions.forgetPhone(phone.key)}
            >
              Forget
            </button>
          </li>
        ))}
      </ul>
    </Fold>
  );
}

function sentenceOf({ focal35Mm, photos, lastTaught, used, conflicts }: Phone): string {
  const count = `${photos} ${photos === 1 ? 'photo' : 'photos'}`;
  const last = lastTaught === null ? '' : `, the last on ${lastTaught}`;
  const use = used
    ? ''
    : `. Not used: photos contradicted one another ${conflicts === 1 ? 'once' : `${conflicts} times`}; more that agree make it usable again`;
  return `At ${focal35Mm} mm (35 mm film): learnt from ${count}${last}${use}.`;
}
