// alter: a change made to a set by amount, what must follow it, and the re-check of what it touched.
import type { ParamSpec, Params } from '../../../shared/alter/params.ts';
import type { FindingJson } from '../../../shared/checks/toFindingsJson.ts';
import { ALL_CHANGES, type AlterReport, alterSet, repeatHistory } from '../../../shared/usecases/alterSet.ts';
import { verify } from '../../../shared/usecases/verify.ts';
import { saveSet } from '../../files/setStore.ts';
import { EXIT, type ExitCode, end, need } from '../exitCodes.ts';
import { findingLines, summaryLine } from '../findingText.ts';
import { lengthInMm } from '../lengthArgument.ts';
import { pathOf, setAt } from '../paths.ts';
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
  if (options.like !== undefined) return like(typed, options.like, options, around);
  if (options.list || what === undefined) return list(options, around);
  const specs = ALL_CHANGES.find(({ id }) => id === what)?.params ?? [];
  const opened = await setAt(around, typed);
  const report = need(
    alterSet(opened.set, {
      what,
      params: paramsOf(specs, options),
      scope: { pieces: options.piece ?? null, sizes: options.size ?? null },
      carry: options.carry ?? false,
    }),
  );
  if (options.out !== undefined) {
    const archived = { set: report.set, pictures: opened.pictures };
    need(await saveSet(around.disk, pathOf(around, options.out), archived, around.now()));
  }
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
  const opened = await setAt(around, typed);
  const { set: toile } = await setAt(around, model);
  if (toile.history.length === 0) end('no-history', `${model} holds no changes to repeat; alter it first.`);
  const { set, done, skipped } = repeatHistory(opened.set, toile.history);
  if (out !== undefined)
    need(await saveSet(around.disk, pathOf(around, out), { set, pictures: opened.pictures }, around.now()));
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

function list({ json }: AlterOptions, around: CliSurroundings): ExitCode {
  const all = ALL_CHANGES.map((change) => ({
    id: change.id,
    kind: 'grade' in change ? 'remedy' : 'alteration',
    title: change.title,
    ...('grade' in change ? { grade: change.grade } : { sentence: change.sentence }),
    params: change.params,
  }));
  if (json) around.out(JSON.stringify({ format: 'notchwise-alterations/1', alterations: all }));
  else
    for (const { id, title, params } of all) {
      around.out(`${id.padEnd(18)}${title}`);
      for (const spec of params) around.out(`${' '.repeat(20)}${spec.name}${defaultWords(spec)}: ${spec.sentence}`);
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
  if (by !== undefined && first !== undefined) params[first.name] = parsed(first, by);
  for (const pair of amount) {
    const at = pair.indexOf('=');
    const name = pair.slice(0, Math.max(0, at));
    const spec = specs.find((candidate) => candidate.name === name);
    const value = pair.slice(at + 1);
    params[at < 0 ? pair : name] = spec === undefined ? value : parsed(spec, value);
  }
  return params;
}

function parsed(spec: ParamSpec, text: string): string | number {
  if (spec.unit === 'name') return text;
  const value = spec.unit === 'mm' ? lengthInMm(text) : text.trim() === '' ? Number.NaN : Number(text);
  if (value === null || Number.isNaN(value))
    end(
      'not-a-number',
      `"${text}" is no amount for ${spec.name}; write a number${spec.unit === 'mm' ? ', such as 12.7 or 1/2in' : ''}.`,
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
    ({ piece, edge, size, byMm }) => `  ${piece}, ${edge}, size ${size}: ${byMm > 0 ? '+' : ''}${byMm.toFixed(1)} mm`,
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
