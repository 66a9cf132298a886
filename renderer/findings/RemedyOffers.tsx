// What mends a finding by itself: each remedy with what the finding says afterwards, looked at on the canvas before it is
// applied. Pointing at one or giving it the focus shows it; "Preview" keeps it shown and goes there; "Apply" is one step.
import { useEffect, useRef, useState } from 'preact/hooks';
import { type LengthText, lengthTextIn } from '../../shared/base/lengthText.ts';
import type { FindingJson } from '../../shared/checks/toFindingsJson.ts';
import type { PatternSet } from '../../shared/pattern/model.ts';
import { signOf } from '../../shared/report/gravitySign.ts';
import { measuredWithSpread } from '../../shared/report/measuredText.ts';
import type { Actions } from '../app/actions.ts';
import type { Proposed, RemedyOffer } from '../app/changeActions.ts';
import { Sign } from './Sign.tsx';

interface Props {
  readonly finding: FindingJson;
  readonly set: PatternSet;
  readonly actions: Actions;
  /** Called after a remedy was applied: the finding is likely gone. */
  readonly onApplied: () => void;
}

export function RemedyOffers({ finding, set, actions, onApplied }: Props) {
  const offers = useOffers(finding, set, actions);
  const [pinned, setPinned] = useState<RemedyOffer | null>(null);
  const pointed = useRef<RemedyOffer | null>(null);
  const tried = useRef(new Map<RemedyOffer, Promise<Proposed | null>>());
  useEffect(() => {
    setPinned(null);
    pointed.current = null;
    return () => actions.preview(null);
  }, [offers, actions]);

  const proposalOf = (offer: RemedyOffer): Promise<Proposed | null> => {
    const asked = tried.current.get(offer) ?? actions.proposeRemedy(set, offer);
    tried.current.set(offer, asked);
    return asked;
  };
  /** Shows what is pointed at, else what is pinned. */
  const show = async (pin: RemedyOffer | null = pinned) => {
    const offer = pointed.current ?? pin;
    if (offer === null) return actions.preview(null);
    const proposed = await proposalOf(offer);
    if ((pointed.current ?? pin) === offer) actions.preview(proposed);
  };
  const point = (offer: RemedyOffer | null) => {
    pointed.current = offer;
    void show();
  };
  const pin = async (offer: RemedyOffer) => {
    const next = pinned === offer ? null : offer;
    setPinned(next);
    pointed.current = next;
    await show(next);
    actions.goTo(
      next === null ? { kind: 'finding', finding: actions.now().selection.finding ?? '' } : { kind: 'preview' },
    );
  };
  const applyOffer = async (offer: RemedyOffer) => {
    const proposed = await proposalOf(offer);
    if (proposed !== null && actions.keepProposed(proposed)) onApplied();
  };

  if (offers === 'trying') return <p role="status">Trying what would mend it …</p>;
  if (offers.length === 0) return null;
  return (
    <>
      <h4>The program can do this for you</h4>
      <ul class="offers" aria-label="Remedies">
        {offers.map((offer) => (
          <li
            key={JSON.stringify([offer.id, offer.params])}
            onPointerEnter={() => point(offer)}
            onPointerLeave={() => point(null)}
            onFocusCapture={() => point(offer)}
            onBlurCapture={() => point(null)}
          >
            <p>{offer.sentence}</p>
            <After offer={offer} lengths={lengthTextIn(set.displayUnits)} />
            <div class="row">
              <button type="button" aria-pressed={pinned === offer} onClick={() => void pin(offer)}>
                Preview
              </button>
              <button type="button" class="main" onClick={() => void applyOffer(offer)}>
                Apply
              </button>
            </div>
          </li>
        ))}
      </ul>
      <p class="source">Old lines are dashed, new ones solid. Applying is one step; Undo takes it back.</p>
    </>
  );
}

/** What the finding would say, and how sure the remedy is. */
function After({
  offer: { after, grade, leaves },
  lengths,
}: {
  readonly offer: RemedyOffer;
  readonly lengths: LengthText;
}) {
  const { verdict, gravity, measured } = after;
  const sign = signOf({ verdict: verdict ?? 'clear', gravity: gravity ?? 'note' });
  const value = measured === null || measured.unit === 'count' ? '' : `, then ${measuredWithSpread(measured, lengths)}`;
  return (
    <p class="after">
      <Sign sign={sign} />
      <span>
        {verdict === null ? 'Gone afterwards' : `${sign.word} afterwards`}
        {value}.{' '}
        {grade === 'safe' ? 'Safe: nothing else depends on it.' : 'Your choice: it changes how the piece is drawn.'}{' '}
        {leaves === 0 ? 'Nothing is left to stop for or to mend.' : `${leaves} left to stop for or to mend.`}
      </span>
    </p>
  );
}

/** Asked anew whenever the finding or the set is another; an answer that comes late is dropped. */
function useOffers(finding: FindingJson, set: PatternSet, actions: Actions): readonly RemedyOffer[] | 'trying' {
  const [offers, setOffers] = useState<readonly RemedyOffer[] | 'trying'>('trying');
  useEffect(() => {
    let isWanted = true;
    setOffers('trying');
    void actions.listRemedies(set, finding).then((listed) => {
      if (isWanted) setOffers(listed ?? []);
    });
    return () => {
      isWanted = false;
    };
  }, [finding, set, actions]);
  return offers;
}
