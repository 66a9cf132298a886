// The wasm picture library behind plain functions on typed arrays. It is handed in by the host, so this folder loads
// nothing; nobody outside this folder touches a library object or has to free one.
import { asCvLibrary } from './cvLibrary.ts';
import { type Filters, makeFilters } from './filters.ts';
import { type MatCensus, makeWithMats } from './matOwner.ts';
import { makeRegions, type Regions } from './regions.ts';
import { makeWarps, type Warps } from './warps.ts';

export interface OpenCv extends Filters, Warps, Regions {
  /** How many library objects are alive; zero between calls. */
  readonly liveMats: () => number;
}

/**
 * Wraps the library object (`cv` of the package opencv-wasm 4.3). Throws when it is something else.
 * Every function copies its input in and its result out; the library's errors become `Error`s with its message.
 */
export function loadOpenCv(cvLibrary: unknown): OpenCv {
  const census: MatCensus = { live: 0 };
  const withMats = makeWithMats(asCvLibrary(cvLibrary), census);
  return { ...makeFilters(withMats), ...makeWarps(withMats), ...makeRegions(withMats), liveMats: () => census.live };
}
