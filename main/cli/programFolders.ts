// Where what comes with the program lies: two folders up, from here as from where the program is built to (dist/cli).
import { fileURLToPath } from 'node:url';

const at = (path: string) => fileURLToPath(new URL(`../../${path}`, import.meta.url));

export const DEMO_FOLDER = at('assets/demo');
export const RENDERER_FOLDER = at('dist/renderer');
