// What a rule is: identity, what it teaches, where its limits come from, its words, whom it examines and how it judges.
// A rule is pure, reads only its context, and says nothing outside `messages`.
import type { CheckContext } from './context.ts';
import type { Finding, Gravity, MeasuredValue, Overlay, Remedy, StatedLimit, Subject, Verdict } from './finding.ts';
import type { Subjects, Things } from './subjects.ts';
import type { Words } from './words.ts';

/** Why a result is unsure; each has its own sentence in the rule, and the first is cured by measuring again. */
export type UnsureReason = 'too-coarse' | 'not-said' | 'broken-seam';

export interface Outcome<D> {
  readonly verdict: Verdict;
  /** For a fault; every other verdict is a `note`, an unsure one a `look`. */
  readonly gravity?: Gravity;
  /** Why the verdict is unsure. */
  readonly reason?: UnsureReason;
  /** Which of the rule's messages is spoken, and with what. */
  readonly key: string;
  readonly data: D;
  readonly subjects: readonly Subject[];
  readonly measured?: MeasuredValue;
  readonly limit?: StatedLimit;
  readonly overlay?: readonly Overlay[];
  readonly remedies?: readonly Remedy[];
}

export interface RuleSource<S, D> {
  readonly id: string;
  readonly title: string;
  /** Teaching text: why it matters at the machine. */
  readonly why: string;
  /** Where the limits come from, or that there are none. */
  readonly source: string;
  readonly messages: Readonly<Record<string, (data: D, say: Words) => string>>;
  readonly subjects: Subjects<S>;
  readonly judge: (subject: S, context: CheckContext) => readonly Outcome<D>[];
}

/** A finding together with what its sentence was made from. */
export interface Judged {
  readonly finding: Finding;
  readonly key: string;
  readonly data: unknown;
  readonly reason: UnsureReason | null;
}

/** A rule with its own types closed in, as the registry holds it. */
export interface Rule {
  readonly id: string;
  readonly title: string;
  readonly why: string;
  readonly source: string;
  readonly messageKeys: readonly string[];
  /** @param recall where the subjects and judgements of an earlier run may still be known; without it all is judged */
  readonly evaluate: (context: CheckContext, recall?: Recall) => readonly Judged[];
}

/** Looks at each thing: afresh, or with what an earlier run found in it where that is still true. */
export type Recall = (rule: string, sources: readonly Looking[]) => readonly Judged[];

/** What a rule says of each of its things. */
export interface Looking {
  readonly things: Things;
  readonly look: (thing: unknown, context: CheckContext) => readonly Judged[];
}

export function defineRule<S, D>(rule: RuleSource<S, D>): Rule {
  const sources = rule.subjects.map(
    ({ things, within }): Looking => ({
      things,
      look: (thing, context) => {
        const all: Judged[] = [];
        for (const subject of within(thing, context)) {
          for (const outcome of rule.judge(subject, context)) all.push(spoken(rule, outcome, context));
        }
        return all;
      },
    }),
  );
  return {
    id: rule.id,
    title: rule.title,
    why: rule.why,
    source: rule.source,
    messageKeys: Object.keys(rule.messages),
    evaluate: (context, recall = lookAtAll(context)) => recall(rule.id, sources),
  };
}

function lookAtAll(context: CheckContext): Recall {
  return (_, sources) => {
    const all: Judged[] = [];
    for (const { things, look } of sources) {
      for (const thing of things(context)) {
        for (const judged of look(thing, context)) all.push(judged);
      }
    }
    return all;
  };
}

function spoken<S, D>(rule: RuleSource<S, D>, outcome: Outcome<D>, context: CheckContext): Judged {
  const message = rule.messages[outcome.key];
  if (message === undefined) throw new Error(`rule ${rule.id} has no message ${outcome.key}`);
  const finding: { -readonly [K in keyof Finding]: Finding[K] } = {
    rule: rule.id,
    verdict: outcome.verdict,
    gravity: gravityOf(outcome),
    subjects: outcome.subjects,
    sentence: message(outcome.data, context.say),
    why: rule.why,
    overlay: outcome.overlay ?? [],
    remedies: outcome.remedies ?? [],
    consequences: [],
  };
  if (outcome.measured !== undefined) finding.measured = outcome.measured;
  if (outcome.limit !== undefined) finding.limit = outcome.limit;
  return { finding, key: outcome.key, data: outcome.data, reason: outcome.reason ?? null };
}

function gravityOf(outcome: Outcome<unknown>): Gravity {
  if (outcome.verdict === 'fault') return outcome.gravity ?? 'mend';
  return outcome.verdict === 'unsure' ? 'look' : 'note';
}
