// The command line's entry: arguments in, exit code out. All else happens in run.ts.
import { runCli } from './run.ts';
import { realSurroundings } from './surroundings.ts';

const abort = new AbortController();
process.once('SIGINT', () => abort.abort());
process.once('SIGTERM', () => abort.abort());
// Whoever reads our output may stop reading (`| head`): that ends the printing, quietly, and is no failure of ours.
process.stdout.on('error', (error: NodeJS.ErrnoException) => {
  if (error.code !== 'EPIPE') throw error;
  process.exit();
});
process.exitCode = await runCli(process.argv.slice(2), realSurroundings(abort.signal));
