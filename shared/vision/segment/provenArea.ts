// An even area is paper when its rim is one sharp step all round: the rim is walked, proven and made the outline of a piece.
import type { TablePointMm } from '../../base/points.ts';
import { bridged } from './contourLabels.ts';
import { outlined } from './coreRegion.ts';
import { areaOf, couldBePaper, coverBeside, dominantModes, looksOf } from './growPaper.ts';
import { shrunk } from './maskOps.ts';
import type { Mode } from './mixture.ts';
import { besideThings, type Found, MAX_SOFT_MM, regionOf, type Search } from './pieceSearch.ts';
import { blocksInside, PATH_SPACING_MM, pathSharpness, type RimPath, rimPath } from './rimPath.ts';
import { sameLine } from './rivals.ts';
import { straightened } from './strayRuns.ts';

/** The rim of a proposed area, as wide as this, may be no part of it. */
const WITHIN_MM = 9;

/** A proposed area whose rim proves it to be paper. */
interface Proof extends RimPath {
  /** Blocks inside the path. */
  readonly mask: Uint8Array;
  readonly cover: Uint8Array;
  readonly paper: readonly Mode[];
  readonly sharpRatio: number;
  readonly longestSoftMm: number;
}

export function provenRim(search: Search): Proof | null {
  const { picture, grid, features, table, fromTable, core, white, level } = search;
  const { width, height } = grid;
  const paper = dominantModes(grid, features, core, table);
  if (!couldBePaper(paper, white, areaOf(core, grid))) return null;
  const path = rimPath(picture, grid, core, { x0: 0, y0: 0, width, height });
  if (path === null) return null;
  const things = coverBeside(grid, features, fromTable, table, paper, core);
  const within = shrunk(core, width, height, WITHIN_MM / grid.mmPerBlock);
  const cover = things.map((value, i) => (within[i] === 1 ? 0 : value));
  const sharpness = pathSharpness(path.soft, besideThings(search, path.points, cover));
  if (sharpness.sharpRatio < level.minSharpRatio || sharpness.longestSoftMm > MAX_SOFT_MM) return null;
  return { ...path, ...sharpness, mask: blocksInside(grid, path.points), cover, paper };
}

/** The outline of a proven area: pixel by pixel, or along its path where the two disagree. */
export function drawnRegion(search: Search, proof: Proof, pathMm: readonly TablePointMm[]): Found | null {
  const { grid, features, table, options, level } = search;
  const { mask, cover, paper, soft, sharpRatio, longestSoftMm } = proof;
  const finer = outlined(search, mask, looksOf(grid, features, table, paper), cover);
  if (finer !== null && sameLine(finer.region.coarse, pathMm)) return finer;
  const even = straightened(pathMm, besideThings(search, proof.points, cover), soft, PATH_SPACING_MM);
  const region = regionOf(bridged(even.points, even.blocked, even.state), sharpRatio, level, false);
  return region.areaMm2 < options.minPieceMm2 ? null : { mask, region, longestSoftMm };
}
