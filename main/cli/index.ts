// The command line's entry: arguments in, exit code out. All else happens in run.ts.
import { constants } from 'node:os';
import { EXIT } from './exitCodes.ts';
import { runCli } from './run.ts';
import { realSurroundings } from './surroundings.ts';

const SIGNALS = constants.signals;
/** POSIX shells: 128 and the number of the signal, 130 for Ctrl-C. */
const SIGNAL_EXIT = 128;

const abort = new AbortController();
let endedBy: keyof typeof SIGNALS | null = null;
for (const signal of ['SIGINT', 'SIGTERM'] as const)
  process.once(signal, () => {
    endedBy = signal;
    abort.abort();
  });
// Whoever reads our output may stop reading (`| head`): that ends the printing, quietly, and is no failure of ours. It ends at
// once, because an exit code alone would leave the work going on for nobody, and be overwritten by its outcome.
process.stdout.on('error', (error: NodeJS.ErrnoException) => {
  if (error.code !== 'EPIPE') throw error;
  process.exit();
});
const exit = await runCli(process.argv.slice(2), realSurroundings(abort.signal));
// What could not be done because the person ended it says so the way shells do.
process.exitCode = exit === EXIT.failed && endedBy !== null ? SIGNAL_EXIT + SIGNALS[endedBy] : exit;
