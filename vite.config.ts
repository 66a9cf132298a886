// Builds the window (renderer/ → dist/renderer), the command line (main/cli → dist/cli) and the desktop shell (main/electron →
// dist/electron): ES modules for each program and its vision worker, and one CommonJS file for the sandboxed preload, which
// can load nothing else.
import { fileURLToPath } from 'node:url';
import preact from '@preact/preset-vite';
import { defineConfig } from 'vite';

const at = (path: string) => fileURLToPath(new URL(path, import.meta.url));

export default defineConfig({
  root: at('renderer'),
  plugins: [preact()],
  builder: {},
  environments: {
    client: {
      build: {
        outDir: at('dist/renderer'),
        emptyOutDir: true,
        modulePreload: { polyfill: false },
        assetsInlineLimit: 0,
      },
    },
    preload: {
      consumer: 'server',
      resolve: { noExternal: true, external: ['electron'] },
      build: {
        outDir: at('dist/electron'),
        emptyOutDir: false,
        copyPublicDir: false,
        rollupOptions: {
          input: at('main/electron/preload.ts'),
          external: ['electron'],
          output: { format: 'cjs', entryFileNames: 'preload.cjs' },
        },
      },
    },
    command: {
      consumer: 'server',
      build: {
        outDir: at('dist/cli'),
        emptyOutDir: true,
        copyPublicDir: false,
        rollupOptions: {
          input: { index: at('main/cli/index.ts'), visionWorker: at('main/imaging/visionWorker.ts') },
          output: { format: 'es', entryFileNames: '[name].js', chunkFileNames: '[name]-[hash].js' },
        },
      },
    },
    desktop: {
      consumer: 'server',
      build: {
        outDir: at('dist/electron'),
        emptyOutDir: false,
        copyPublicDir: false,
        rollupOptions: {
          input: { index: at('main/electron/index.ts'), visionWorker: at('main/imaging/visionWorker.ts') },
          external: ['electron'],
          output: { format: 'es', entryFileNames: '[name].js', chunkFileNames: '[name].js' },
        },
      },
    },
  },
});
