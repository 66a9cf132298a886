// alter: a change made to a set by amount, what must follow it, and the re-check of what it touched.
import type { Alteration } from '../../../shared/alter/alteration.ts';
import { EVERYWHERE } from '../../../shared/alter/kernel/find.ts';
import { type ParamSpec, type Params, readParams } from '../../../shared/alter/params.ts';
import type { RemedyAction } from '../../../shared/alter/remedy.ts';
import { changeWords, edgeWords } from '../../../shared/alter/words.ts';
import type { FindingJson } from '../../../shared/checks/toFindingsJson.ts';
import type { PatternSet } from '../../../shared/pattern/model.ts';
import { ALL_CHANGES, type AlterReport, alterSet, repeatHistory } from '../../../shared/usecases/alterSet.ts';
import { verify } from '../../../shared/usecases/verify.ts';
import { saveSet } from '../../files/setStore.ts';
import { EXIT, type ExitCode, end, need } from '../exitCodes.ts';
import { findingLines, summaryLine } from '../findingText.ts';
import { lengthInMm } from '../lengthArgument.ts';
import { setAt, setPathOf } from '../paths.ts';
import type { CliSurroundings } from '../surroundings.ts';

interface AlterOptions {
  readonly list?: boolean;
  readonly by?: string;
  readonly amount?: readonly string[];
  readonly piece?: readonly string[];
  readonly size?: readonly string[];
  readonly carry?: boolean;
  readonly like?: string;
  readonly out?: string;
  readonly json?: boolean;
}

export async function alterCommand(
  typed: string,
  what: string | undefined,
  options: AlterOptions,
  around: CliSurroundings,
): Promise<ExitCode> {
  const asked = givenNames(options);
  if (options.like !== undefined) {
    const given = what === undefined ? asked : [what, ...asked];
    refuseBeside('--like repeats what the history of the other set says', given);
    return like(typed, options.like, options, around);
  }
  const said = options.out === undefined ? asked : [...asked, '--out'];
  if (options.list || (what === undefined && said.length === 0)) {
    refuseBeside('--list only lists', said);
    return list(typed, options, around);
  }
  if (what === undefined)
    end(
      'no-alteration',
      `${said.join(', ')}: but what is to be done? Name the alteration after the set; --list names all.`,
    );
  const specs = ALL_CHANGES.find(({ id }) => id === what)?.params ?? [];
  const path = setPathOf(around, options.out);
  const opened = await setAt(around, typed);
  const params = paramsOf(specs, options);
  if (specs.length > 0) need(readParams(specs, params, (name) => optionOf(specs, name)));
  const report = need(
    alterSet(opened.set, {
      what,
      params,
      scope: { pieces: options.piece ?? null, sizes: options.size ?? null },
      carry: options.carry ?? false,
    }),
  );
  if (path !== null)
    need(await saveSet(around.disk, path, { set: report.set, pictures: opened.pictures }, around.now()));
  if (options.json) around.out(JSON.stringify(reportJson(what, report)));
  else for (const line of reportLines(report, options)) around.out(line);
  return EXIT.done;
}

/** The changes of another set, a toile that was fitted, done again on this one. */
async function like(
  typed: string,
  model: string,
  { out, json }: AlterOptions,
  around: CliSurroundings,
): Promise<ExitCode> {
  const path = setPathOf(around, out);
  const opened = await setAt(around, typed);
  const { set: toile } = await setAt(around, model);
  if (toile.history.length === 0) end('no-history', `${model} holds no changes to repeat; alter it first.`);
  const { set, done, skipped } = repeatHistory(opened.set, toile.history);
  if (path !== null) need(await saveSet(around.disk, path, { set, pictures: opened.pictures }, around.now()));
  const { findings } = verify(set);
  if (json) {
    const left = findings.findings.filter(({ rule, verdict }) => rule === 'left-behind' && verdict === 'fault');
    around.out(
      JSON.stringify({
        format: 'notchwise-repeated/1',
        done,
        skipped,
        left,
        counts: findings.counts,
        history: set.history,
      }),
    );
    return EXIT.done;
  }
  for (const sentence of done) around.out(sentence);
  for (const { sentence, reason } of skipped) around.out(`Not repeated: ${sentence} ${reason}`);
  around.out(summaryLine(findings.counts));
  around.out(keptWords(out));
  return EXIT.done;
}

function keptWords(out: string | undefined): string {
  return out === undefined ? 'Nothing was written; add --out FILE.notchwise to keep the set.' : `The set is in ${out}`;
}

/** Options that say what an alteration is to do. */
function givenNames({ by, amount, piece, size, carry }: AlterOptions): readonly string[] {
  const given = { '--by': by, '--amount': amount, '--piece': piece, '--size': size, '--carry': carry };
  return Object.entries(given).flatMap(([name, value]) => (value === undefined ? [] : [name]));
}

function refuseBeside(why: string, given: readonly string[]): void {
  if (given.length > 0) end('beside', `${why}: leave out ${given.join(', ')}.`);
}

/** What a person types for an amount. */
function optionOf(specs: readonly ParamSpec[], name: string): string {
  return specs[0]?.name === name ? '--by' : `--amount ${name}`;
}

/** Whether the set has something that it fits; null where that depends on what is named. */
function fits(change: Alteration | RemedyAction, set: PatternSet): boolean | null {
  if ('grade' in change || change.params.some(({ unit }) => unit === 'name')) return null;
  return change.grasps(set, {}, EVERYWHERE).length > 0;
}

async function list(typed: string, { json }: AlterOptions, around: CliSurroundings): Promise<ExitCode> {
  const { set } = await setAt(around, typed);
  const all = ALL_CHANGES.map((change) => ({
    id: change.id,
    fits: fits(change, set),
    kind: 'grade' in change ? 'remedy' : 'alteration',
    title: change.title,
    ...('grade' in change ? { grade: change.grade } : { sentence: change.sentence }),
    params: change.params,
  }));
  if (json) around.out(JSON.stringify({ format: 'notchwise-alterations/1', alterations: all }));
  else
    for (const { id, title, params, fits: isFit } of all) {
      around.out(`${id.padEnd(18)}${title}${isFit === false ? ' (nothing in this set)' : ''}`);
      for (const [i, spec] of params.entries())
        around.out(
          `${' '.repeat(20)}${i === 0 && spec.unit !== 'name' ? `--by (${spec.name})` : spec.name}${defaultWords(spec)}: ${spec.sentence}`,
        );
    }
  return EXIT.done;
}

function defaultWords(spec: ParamSpec): string {
  if (spec.default === null) return 'like' in spec ? ` (= ${spec.like})` : '';
  return spec.default === '' ? '' : ` (${spec.default})`;
}

/** --by is the first amount; --amount NAME=VALUE any of them. */
function paramsOf(specs: readonly ParamSpec[], { by, amount = [] }: AlterOptions): Params {
  const params: Record<string, string | number> = {};
  const [first] = specs;
  if (by !== undefined && first !== undefined) params[first.name] = parsed(first, by, '--by');
  for (const pair of amount) {
    const at = pair.indexOf('=');
    const name = pair.slice(0, Math.max(0, at));
    const spec = specs.find((candidate) => candidate.name === name);
    const value = pair.slice(at + 1);
    params[at < 0 ? pair : name] = spec === undefined ? value : parsed(spec, value, optionOf(specs, name));
  }
  return params;
}

function parsed(spec: ParamSpec, text: string, option: string): string | number {
  if (spec.unit === 'name') return text;
  const value = spec.unit === 'mm' ? lengthInMm(text) : text.trim() === '' ? Number.NaN : Number(text);
  if (value === null || Number.isNaN(value))
    end(
      'not-a-number',
      `"${text}" is no amount for ${option}; write a number${spec.unit === 'mm' ? ', such as 12.7 or 1/2in' : ''}.`,
    );
  return value;
}

function reportJson(what: string, report: AlterReport) {
  const followerJson = ({ seam, size, missingMm, missingBySectionMm, sentence }: AlterReport['followers'][number]) => ({
    seam: seam.id,
    size,
    missingMm,
    missingBySectionMm,
    sentence,
  });
  return {
    format: 'notchwise-alteration/1',
    alteration: what,
    sentence: report.sentence,
    changed: report.changed,
    followers: report.followers.map(followerJson),
    carried: report.carried.map(({ sentence }) => sentence),
    left: report.left.map(({ follower, reason }) => ({ ...followerJson(follower), reason })),
    before: report.findingsBefore,
    after: report.findingsAfter,
    history: report.set.history,
  };
}

function reportLines(report: AlterReport, { carry, out }: AlterOptions): readonly string[] {
  const edges = report.changed.map(
    ({ piece, edge, size, byMm }) =>
      `  ${edgeWords(report.set, piece, edge, size)}, size ${size}: ${changeWords(report.set, byMm)}`,
  );
  const left = report.left.map(
    ({ follower, reason }) => `  ${follower.sentence}${reason === null ? '' : ` ${reason}`}`,
  );
  return [
    report.sentence,
    'Edges that changed on the seamline:',
    ...(edges.length === 0 ? ['  none'] : edges),
    ...(report.followers.length === 0
      ? ['Nothing has to follow.']
      : ['What must follow:', ...report.followers.map(({ sentence }) => `  ${sentence}`)]),
    ...(carry
      ? [
          'Carried through:',
          ...(report.carried.length === 0 ? ['  nothing'] : report.carried.map(({ sentence }) => `  ${sentence}`)),
        ]
      : []),
    ...(left.length === 0 ? ['Nothing is left behind.'] : ['Left behind:', ...left]),
    ...findingBlock('Before, about what was touched:', report.findingsBefore),
    ...findingBlock('After:', report.findingsAfter),
    keptWords(out),
  ];
}

function findingBlock(title: string, findings: readonly FindingJson[]): readonly string[] {
  return [
    title,
    ...(findings.length === 0 ? ['  nothing to say'] : findings.flatMap(findingLines).map((line) => `  ${line}`)),
  ];
}
