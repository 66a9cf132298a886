// Style sheets are imported for their effect; the build puts them into a file of their own.
declare module '*.css';

interface ImportMeta {
  /** Files that the build bundles as text, by path (vite.dev/guide/features, glob import). */
  readonly glob: <T>(pattern: string, options: { query: '?raw'; import: 'default'; eager: true }) => Record<string, T>;
}
