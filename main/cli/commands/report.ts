// report: the page a person prints.
import { reportOf } from '../../../shared/usecases/report.ts';
import { rulePages } from '../../files/rulePages.ts';
import { EXIT, type ExitCode, end, need } from '../exitCodes.ts';
import { pathOf, setToJudge } from '../paths.ts';
import type { CliSurroundings } from '../surroundings.ts';

interface ReportOptions {
  readonly out: string;
  readonly json?: boolean;
}

export async function report(typed: string, { out, json }: ReportOptions, around: CliSurroundings): Promise<ExitCode> {
  if (!/\.html?$/i.test(out)) {
    end('unknown-format', `${out} should end in .html; any browser prints the page to paper or PDF.`);
  }
  const { set } = await setToJudge(around, typed);
  const path = pathOf(around, out);
  need(await around.disk.write(path, reportOf(set, need(await rulePages()))));
  around.out(json ? JSON.stringify({ file: path }) : `The report is in ${path}`);
  return EXIT.done;
}
