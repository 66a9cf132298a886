// demo: the whole job on the photos that come with the program. They are rendered, not taken; README says so.

import { join } from 'node:path';
import type { PatternSet } from '../../../shared/pattern/model.ts';
import { reportOf } from '../../../shared/usecases/report.ts';
import { verify } from '../../../shared/usecases/verify.ts';
import { rulePages } from '../../files/rulePages.ts';
import { fileNameFor, SET_ENDING, saveSet } from '../../files/setStore.ts';
import { hasDisplay } from '../../loopback/openBrowser.ts';
import { EXIT, type ExitCode, need } from '../exitCodes.ts';
import { findingLines, summaryLine } from '../findingText.ts';
import { pathOf } from '../paths.ts';
import { DEMO_FOLDER } from '../programFolders.ts';
import type { CliSurroundings } from '../surroundings.ts';
import { type Traced, type TraceOptions, traceFiles } from './trace.ts';
import { window } from './window.ts';

interface DemoOptions {
  readonly out: string;
  /** Undefined = when there is a display. */
  readonly window?: boolean;
  readonly json?: boolean;
}

/** The rulers of the demo's print were measured: its cards are of true size. Its phone is invented and teaches nothing about the person's own. */
const OPTIONS: TraceOptions = { line: 'centre', outline: 'auto', printScale: { x: 1, y: 1 }, phoneProfile: false };

export async function demo(options: DemoOptions, around: CliSurroundings): Promise<ExitCode> {
  const folder = pathOf(around, options.out);
  need(await around.disk.makeFolder(folder));
  const say = (text: string) => {
    if (!options.json) around.out(text);
  };

  say('The class traced the dress "Marl" in size M. Reading the photos (about half a minute) …');
  const plan = join(DEMO_FOLDER, 'marl-plan.json');
  const traced = await traceFiles([join(DEMO_FOLDER, 'photos', 'marl-m')], { ...OPTIONS, plan }, around);
  const first = await deliver(traced, folder, around);
  tell(traced, first.verified, say);

  say('\nAfter the fitting the armholes were opened. Reading the two bodice pieces again …');
  const again = await traceFiles(
    [join(DEMO_FOLDER, 'photos', 'marl-m-after-fitting')],
    { ...OPTIONS, plan: first.setPath },
    around,
  );
  const fitted = { ...again, set: { ...again.set, name: `${traced.set.name} after fitting` } };
  const second = await deliver(fitted, folder, around);
  tell(fitted, second.verified, say);

  if (options.json) {
    const told = [first, second].map(({ setPath, reportPath, verified }) => ({
      set: setPath,
      report: reportPath,
      findings: verified.findings,
    }));
    around.out(JSON.stringify({ sets: told }));
  } else {
    say(`\nReports: ${first.reportPath} and ${second.reportPath}`);
  }
  const open = options.window ?? hasDisplay(around);
  return open ? window(second.setPath, { port: 0, browser: true, json: options.json ?? false }, around) : EXIT.done;
}

interface Delivered {
  readonly setPath: string;
  readonly reportPath: string;
  readonly verified: ReturnType<typeof verify>;
}

/** Set and report on disk. */
async function deliver(traced: Traced, folder: string, around: CliSurroundings): Promise<Delivered> {
  const name = fileNameFor(traced.set.name);
  const setPath = join(folder, name + SET_ENDING);
  const reportPath = join(folder, `${name}.html`);
  need(await saveSet(around.disk, setPath, traced, around.now()));
  need(await around.disk.write(reportPath, reportOf(traced.set, need(await rulePages()))));
  return { setPath, reportPath, verified: verify(traced.set) };
}

function tell({ capture, set }: Traced, { findings }: ReturnType<typeof verify>, say: (text: string) => void): void {
  say(
    `\n"${set.name}": ${capture.pieces.length} pieces in ${capture.photos.length} photos, ${tracedCount(set)} recognised`,
  );
  for (const warning of capture.warnings) say(`note   ${warning.message}`);
  const raised = findings.findings.filter(({ verdict }) => verdict === 'fault' || verdict === 'unsure');
  for (const line of raised.flatMap(findingLines)) say(line);
  say(summaryLine(findings.counts));
}

function tracedCount(set: PatternSet): number {
  return set.pieces.filter((piece) => piece.plan !== undefined && Object.keys(piece.shapes).length > 0).length;
}
