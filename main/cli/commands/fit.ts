// fit: the finished garment against a body, which size to start from, and bodies typed in or taken from a table. A change is
// written with its history.
import { basename } from 'node:path';
import { ok, type Result } from '../../../shared/base/result.ts';
import { type Words, wordsIn } from '../../../shared/checks/words.ts';
import { readBodyTable } from '../../../shared/formats/bodies/read.ts';
import { type Body, FIT_CLASSES, type FitClass, type PatternSet } from '../../../shared/pattern/model.ts';
import {
  bodyOfTable,
  importBodies,
  publishedTable,
  removeBody,
  setBody,
  setFabric,
  usePublishedTable,
} from '../../../shared/usecases/bodies.ts';
import { type FitLine, type FitReport, fitReport } from '../../../shared/usecases/fitReport.ts';
import { saveSet } from '../../files/setStore.ts';
import { EXIT, type ExitCode, end, need } from '../exitCodes.ts';
import { lengthInMm } from '../lengthArgument.ts';
import { pathOf, setAt } from '../paths.ts';
import type { CliSurroundings } from '../surroundings.ts';

interface FitOptions {
  readonly body?: string;
  readonly size?: string;
  readonly set?: string;
  readonly wanted?: string;
  readonly table?: string;
  readonly remove?: string;
  readonly fabric?: string;
  readonly out?: string;
  readonly json?: boolean;
}

export async function fit(typed: string, options: FitOptions, around: CliSurroundings): Promise<ExitCode> {
  const opened = await setAt(around, typed);
  const set = await changedSet(opened.set, options, around);
  const steps = set.history.slice(opened.set.history.length);
  if (steps.length > 0) {
    const out = options.out ?? typed;
    if (!out.endsWith('.notchwise'))
      end('no-out', 'Only a set file can be written back; add --out FILE.notchwise to keep the set.');
    need(await saveSet(around.disk, pathOf(around, out), { ...opened, set }, around.now()));
    for (const { sentence } of steps) around.err(sentence);
    around.err(`The set is in ${out}.`);
  }
  const isTraced = set.pieces.some(({ shapes }) => Object.keys(shapes).length > 0);
  // Bodies may be entered into a plan, before anything was traced.
  if (steps.length > 0 && !isTraced) {
    if (options.json) around.out(JSON.stringify({ format: 'notchwise-bodies/1', set: set.name, bodies: set.bodies }));
    return EXIT.done;
  }
  const body = await bodyFor(set, options, around);
  const report = need(fitReport(set, { body, size: options.size ?? null }));
  if (options.json) around.out(JSON.stringify(report));
  else for (const line of reportLines(report, wordsIn(set.displayUnits))) around.out(line);
  return EXIT.done;
}

/** Changes in the order: a table, the measures of one body, a body taken away, the cloth. */
async function changedSet(start: PatternSet, options: FitOptions, around: CliSurroundings): Promise<PatternSet> {
  const { table, remove, fabric, wanted } = options;
  let set = start;
  if (table !== undefined) {
    const imported = /\.(csv|tsv|txt|json)$/i.test(table)
      ? importBodies(set, basename(table), await textOf(table, around))
      : usePublished(set, table);
    set = need(imported).set;
  }
  if (options.set !== undefined || wanted !== undefined) {
    const name = options.body ?? firstPerson(set);
    const size = options.size === undefined ? {} : { size: options.size };
    const wish = wanted === undefined ? {} : { wanted: classOf(wanted) };
    set = need(setBody(set, { name, measuresMm: measuresOf(options.set ?? ''), ...size, ...wish }));
  }
  if (remove !== undefined) set = need(removeBody(set, remove));
  if (fabric !== undefined) {
    const widthMm = fabric === 'none' ? null : lengthInMm(fabric);
    if (widthMm === null && fabric !== 'none')
      end('not-a-number', `"${fabric}" is no width of cloth; write 1400, 140cm or 55in, or none.`);
    set = need(setFabric(set, widthMm));
  }
  return set;
}

/** "us-paper-misses" or "us-paper-misses:S=8,M=10,L=12". */
function usePublished(set: PatternSet, table: string) {
  const at = table.indexOf(':');
  if (at < 0) return usePublishedTable(set, table, null);
  const columns = Object.fromEntries(pairsOf(table.slice(at + 1), 'a size of the set and of the table, such as M=10'));
  return usePublishedTable(set, table.slice(0, at), columns);
}

/** Without a name the measures belong to the one person of the set, or to a new one. */
function firstPerson(set: PatternSet): string {
  const people = set.bodies.filter(({ name }) => !set.sizes.includes(name));
  if (people.length > 1)
    end('which-body', `The set has ${people.map(({ name }) => `"${name}"`).join(', ')}; say which with --body NAME.`);
  return people[0]?.name ?? 'me';
}

function measuresOf(text: string): Readonly<Record<string, number | null>> {
  if (text.trim() === '') return {};
  return Object.fromEntries(
    pairsOf(text, 'a measure and its length, such as bust=920').map(([name, value]) => {
      if (value === 'none') return [name, null];
      const mm = lengthInMm(value);
      if (mm === null)
        end('not-a-number', `"${value}" is no length for ${name}; write 920, 92cm, 36 1/4in, or none to take it away.`);
      return [name, mm];
    }),
  );
}

function pairsOf(text: string, what: string): readonly (readonly [string, string])[] {
  return text.split(',').map((pair) => {
    const at = pair.indexOf('=');
    if (at < 1) end('not-a-pair', `"${pair.trim()}" should be ${what}.`);
    return [pair.slice(0, at).trim(), pair.slice(at + 1).trim()];
  });
}

function classOf(text: string): FitClass | null {
  if (text === 'none') return null;
  const known = FIT_CLASSES.find((one) => one === text);
  return known ?? end('no-class', `"${text}" is no way to fit; possible are ${FIT_CLASSES.join(', ')}, or none.`);
}

/** A body of the set by name, a body of a published table (TABLE:SIZE), or the first of a file. */
async function bodyFor(set: PatternSet, { body }: FitOptions, around: CliSurroundings): Promise<string | Body | null> {
  if (body === undefined || set.bodies.some(({ name }) => name === body)) return body ?? null;
  const at = body.lastIndexOf(':');
  if (at > 0) return need(fromTable(body.slice(0, at), body.slice(at + 1)));
  if (!/\.(csv|tsv|txt|json)$/i.test(body)) return body;
  const [first] = need(readBodyTable(basename(body), await textOf(body, around)));
  return first ?? null;
}

function fromTable(id: string, column: string): Result<Body> {
  const table = publishedTable(id);
  if (!table.ok) return table;
  const body = bodyOfTable(table.value, column);
  return body.ok ? ok({ ...body.value, name: `${table.value.title}, ${column}` }) : body;
}

async function textOf(path: string, around: CliSurroundings): Promise<string> {
  return new TextDecoder().decode(need(await around.disk.read(pathOf(around, path))));
}

function reportLines({ size, body, lines, findings, advice }: FitReport, say: Words): readonly string[] {
  const raised = findings.filter(({ verdict }) => verdict !== 'clear');
  return [
    body === null
      ? `Size ${size}, finished; no body was given (fit SET --set bust=920,waist=760).`
      : `Size ${size} on "${body.name}":`,
    ...lines.map((line) => lineWords(line, say)),
    ...(raised.length === 0
      ? []
      : ['', ...raised.map((f) => `${(f.verdict === 'fault' ? f.gravity : f.verdict).padEnd(6)} ${f.sentence}`)]),
    ...(advice === null ? [] : ['', advice.sentence]),
  ];
}

function lineWords(line: FitLine, say: Words): string {
  const name = line.measure.padEnd(16);
  if (line.finished === null) return `  ${name}${line.problem ?? ''}`;
  const half = line.halfMm === null ? '' : ` (half ${say.length(line.halfMm)})`;
  const passes =
    line.passesMm === null || line.passesMm === line.finished.valueMm ? '' : `, undone ${say.length(line.passesMm)}`;
  const finished = `${say.uncertain(line.finished.valueMm, line.finished.sigmaMm)}${half}${passes}`;
  if (line.bodyMm === null || line.easeMm === null) return `  ${name}${finished}`;
  const usual = line.leastEaseMm === null ? '' : `, ${say.length(line.leastEaseMm)} or more is usual`;
  const fitClass = line.fitClass === null ? '' : `, ${line.fitClass}`;
  return `  ${name}${finished}; ${line.bodyMeasure} ${say.length(line.bodyMm)}: ease ${say.length(line.easeMm)}${fitClass}${usual}`;
}
