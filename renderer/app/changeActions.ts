// Changes that the host works out: remedies of a finding and alterations by amount. Each comes back as a set, which is shown as
// a preview or made one step of the history; nothing is changed until the person says so.
import { fail, ok, type Result } from '../../shared/base/result.ts';
import type { FindingJson } from '../../shared/checks/toFindingsJson.ts';
import type { CallValue } from '../../shared/contract/contract.ts';
import type { PatternSet } from '../../shared/pattern/model.ts';
import { type Altering, currentSet, initialState } from '../state/windowState.ts';
import type { ActionParts } from './actionParts.ts';

export type RemedyOffer = CallValue<'remedies.list'>['offers'][number];

/** A set that a change would give, and the set that it was worked out from. */
export interface Proposed {
  readonly from: PatternSet;
  readonly set: PatternSet;
  readonly sentence: string;
}

/** An alteration worked out: the set it would give, and what it asks of the pieces that are sewn to it. */
export type Altered = Proposed & Pick<CallValue<'changes.apply'>, 'edges' | 'followers' | 'carried' | 'left'>;

type Edit = (label: string, change: (set: PatternSet) => PatternSet) => void;

export function makeChangeActions({ store, bridge, tell, refuse, keeper }: ActionParts, edit: Edit) {
  return {
    /** Remedies that apply themselves, each tried by the host; null when it could not say. */
    listRemedies: async (set: PatternSet, { rule, subjects }: FindingJson): Promise<readonly RemedyOffer[] | null> => {
      const named = subjects.map((subject) => ({ ...subject }));
      const reply = await bridge.call['remedies.list']({
        set: keeper.documentOf(set),
        finding: { rule, subjects: named },
      });
      if (reply.ok) return reply.value.offers;
      refuse(reply.error);
      return null;
    },
    proposeRemedy: async (from: PatternSet, { id, params }: RemedyOffer): Promise<Proposed | null> => {
      const reply = await bridge.call['remedies.apply']({ set: keeper.documentOf(from), remedy: { id, params } });
      if (!reply.ok) {
        refuse(reply.error);
        return null;
      }
      const set = keeper.modelOf(reply.value.set);
      return set && { from, set, sentence: reply.value.sentence };
    },
    /** A refusal is for the panel to say: it comes with every other amount that is tried. */
    proposeAlteration: async (
      from: PatternSet,
      { id, given, pieces, sizes, carry }: Altering,
    ): Promise<Result<Altered>> => {
      const reply = await bridge.call['changes.apply']({
        set: keeper.documentOf(from),
        change: { id, params: { ...given } },
        pieces: pieces && [...pieces],
        sizes: sizes && [...sizes],
        carry,
      });
      if (!reply.ok) return reply;
      const { set: document, sentence, edges, followers, carried, left } = reply.value;
      const set = keeper.modelOf(document);
      if (set === null) return fail('not-a-set', 'The altered set could not be read; choose another amount.');
      return ok({ from, set, sentence, edges, followers, carried, left });
    },
    alterBy: (change: Partial<Omit<Altering, 'given'>>): void =>
      store.set((s) => ({ ...s, altering: { ...s.altering, ...change } })),
    /** An amount or a name said, or taken back. */
    say: (name: string, value: number | string | null): void =>
      store.set((s) => {
        const { [name]: _, ...rest } = s.altering.given;
        const given = value === null ? rest : { ...rest, [name]: value };
        return { ...s, altering: { ...s.altering, given } };
      }),
    /** Another alteration is chosen, or this one was made: nothing is said of it yet. */
    beginAltering: (id: string): void =>
      store.set((s) => ({ ...s, altering: { ...initialState.altering, id, carry: s.altering.carry } })),
    /** Shows a change over the set as it is; null shows the set alone again. */
    preview: (proposed: Proposed | null): void =>
      store.set((s) => {
        if (proposed === null) return s.preview === null ? s : { ...s, preview: null };
        return proposed.from === currentSet(s) ? { ...s, preview: proposed } : s;
      }),
    /** Makes a proposed change one step of the history; refused when the set has changed since it was worked out. */
    keepProposed: ({ from, set, sentence }: Proposed): boolean => {
      if (currentSet(store.get()) !== from) {
        tell('error', 'The set has changed since this was worked out; look at the new findings and choose again.');
        return false;
      }
      edit(sentence.replace(/\.$/, ''), () => set);
      if (currentSet(store.get()) === from) return false;
      tell('done', sentence);
      return true;
    },
  };
}
