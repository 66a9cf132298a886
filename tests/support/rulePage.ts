// The page of a rule, made from its metadata and from its own test cases, which are executed: every sentence and number on it
// is what the checks say of that set.
import { contextOf } from '../../shared/checks/context.ts';
import type { Finding, StatedLimit, Verdict } from '../../shared/checks/finding.ts';
import type { Judged, Rule } from '../../shared/checks/rule.ts';
import { toFindingsJson } from '../../shared/checks/toFindingsJson.ts';
import { CLOTHS, type PatternSet } from '../../shared/pattern/model.ts';
import { remediesFor } from '../../shared/usecases/remedies/offers.ts';

export interface PageCase {
  readonly why: string;
  readonly set: PatternSet;
  readonly key: string;
}

export interface PageCases {
  readonly pass: readonly PageCase[];
  readonly fail: readonly PageCase[];
  readonly unsure: readonly PageCase[];
  readonly notApplicable: readonly PageCase[];
}

export function rulePage(rule: Rule, cases: PageCases): string {
  return [
    `# ${rule.title}`,
    `Rule \`${rule.id}\``,
    rule.why,
    '## Limit',
    `Source: ${rule.source}.`.replace(/\.\.$/, '.'),
    ...limitTable(rule, cases),
    ...outcome('Clear', 'clear', rule, cases.pass),
    ...outcome('Fault', 'fault', rule, cases.fail),
    ...outcome('Unsure', 'unsure', rule, cases.unsure),
    ...outcome('Does not apply', 'not-applicable', rule, cases.notApplicable),
  ]
    .join('\n\n')
    .concat('\n');
}

const MEANING: Readonly<Record<Verdict, string>> = {
  clear: 'Within the limit with all of the uncertainty.',
  fault: 'Outside the limit with all of the uncertainty.',
  unsure: 'Neither can be said; the sentence tells what is missing.',
  'not-applicable': 'There is nothing to judge here.',
};

/** One example for each message of this outcome: the first test case that speaks it. */
function outcome(title: string, verdict: Verdict, rule: Rule, cases: readonly PageCase[]): readonly string[] {
  if (cases.length === 0) return [];
  const firsts = cases.filter((one, i) => cases.findIndex(({ key }) => key === one.key) === i);
  return [
    `## ${title}`,
    MEANING[verdict],
    ...firsts.flatMap((one) => {
      const hit = judged(rule, one, verdict);
      return hit === null ? [] : example(one, hit.finding);
    }),
  ];
}

function judged(rule: Rule, { set, key }: PageCase, verdict: Verdict): Judged | null {
  return rule.evaluate(contextOf(set)).find((j) => j.finding.verdict === verdict && j.key === key) ?? null;
}

function example({ why, set }: PageCase, finding: Finding): readonly string[] {
  const gravity = finding.verdict === 'fault' ? `, to ${VERB[finding.gravity]}` : '';
  const mend = finding.verdict === 'fault' ? remedies(set, finding) : [];
  return [`**Example${gravity}: ${why}**`, `> ${finding.sentence}`, ...mend];
}

const VERB = { stop: 'stop for', mend: 'mend', look: 'look at', note: 'note' } as const;

function remedies(set: PatternSet, finding: Finding): readonly string[] {
  const [json] = toFindingsJson(set, { findings: [finding], counts: NO_COUNTS }).findings;
  const offers = json === undefined ? [] : remediesFor(set, json);
  return [
    ['What to do:', ...finding.remedies.map(({ sentence }) => `- ${sentence}`)].join('\n'),
    ...(offers.length === 0
      ? []
      : [['What applies itself:', ...offers.map(({ id, sentence }) => `- ${sentence} (\`${id}\`)`)].join('\n')]),
  ];
}

const NO_COUNTS = { stop: 0, mend: 0, look: 0, note: 0, unsure: 0, clear: 0, notApplicable: 0 };

/** The limit as it is stated for the examples, under every preset; presets that say the same share a row. */
function limitTable(rule: Rule, cases: PageCases): readonly string[] {
  const sets = [...cases.fail, ...cases.pass].map(({ set }) => set);
  const presets = (['home', 'studio'] as const).flatMap((tolerance) => CLOTHS.map((cloth) => ({ tolerance, cloth })));
  const rows = presets.map((preset) => {
    const limits = sets.flatMap((set) => rule.evaluate(contextOf({ ...set, preset })).flatMap(limitOf));
    return { name: `${preset.tolerance}, ${preset.cloth}`, text: [...new Set(limits)].sort().join('<br>') };
  });
  const texts = [...new Set(rows.map(({ text }) => text))];
  if (texts.join('') === '') return [];
  return [
    [
      '| preset | limits in the examples below |',
      '|---|---|',
      ...texts.map((text) => {
        const names = rows.filter((row) => row.text === text).map(({ name }) => name);
        return `| ${names.length === presets.length ? 'every preset' : names.join('; ')} | ${text} |`;
      }),
    ].join('\n'),
  ];
}

function limitOf({ finding }: Judged): readonly string[] {
  const { limit } = finding;
  return limit === undefined || finding.verdict === 'not-applicable' ? [] : [limitText(limit)];
}

const UNIT: Readonly<Record<StatedLimit['unit'], string>> = { mm: ' mm', deg: '°', count: '', ratio: ' (ratio)' };

function limitText({ value, unit, source }: StatedLimit): string {
  return `${Math.round(value * 100) / 100}${UNIT[unit]}: ${source}`;
}
