// Builds what the bench measures as the program itself is built, because that is how it runs for a person: from the sources it
// would load slower and every function made in a loop would carry its name along.
import { fileURLToPath } from 'node:url';
import { build } from 'vite';

const at = (path: string) => fileURLToPath(new URL(path, import.meta.url));
const FOLDER = at('../../dist/bench');

const ENTRIES = {
  onePhoto: at('onePhoto.ts'),
  poolRun: at('poolRun.ts'),
  checksRun: at('checksRun.ts'),
  visionWorker: at('../../main/imaging/visionWorker.ts'),
} as const;

let built: Promise<unknown> | null = null;

/** The built file, for `node` to run. Rejects when it cannot be built. */
export async function builtProgram(name: Exclude<keyof typeof ENTRIES, 'visionWorker'>): Promise<string> {
  built ??= build({
    configFile: false,
    logLevel: 'error',
    build: {
      ssr: true,
      outDir: FOLDER,
      emptyOutDir: true,
      rollupOptions: {
        input: ENTRIES,
        output: { format: 'es', entryFileNames: '[name].js', chunkFileNames: '[name]-[hash].js' },
      },
    },
  });
  await built;
  return `${FOLDER}/${name}.js`;
}
