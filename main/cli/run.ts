// Runs one command line and gives its exit code. Expected failures are one sentence on standard error; anything else is a
// fault of the program: one sentence too, with the trace in a file.
import { CommanderError } from 'commander';
import { reportBug } from '../files/errorLog.ts';
import { CommandFailure, EXIT, type ExitCode } from './exitCodes.ts';
import { buildProgram } from './program.ts';
import type { CliSurroundings } from './surroundings.ts';

/** `argv` without node and script. */
export async function runCli(argv: readonly string[], around: CliSurroundings): Promise<ExitCode> {
  let exit: ExitCode = EXIT.done;
  const program = buildProgram(around, (code) => {
    exit = code;
  });
  try {
    await program.parseAsync([...argv], { from: 'user' });
    return exit;
  } catch (error) {
    if (error instanceof CommandFailure) {
      around.err(error.failure.sentence);
      return EXIT.failed;
    }
    // Help and version end this way too, with 0; commander has written its own sentence for the rest.
    if (error instanceof CommanderError) return error.exitCode === 0 ? EXIT.done : EXIT.failed;
    around.err(await reportBug(around.disk, around.folders.logs, error, around.now()));
    return EXIT.failed;
  }
}
