// Follows the pen lines around the rim of an enclosed region: at stations along the rim, the crossings of lines with the
// rim's normal are chained by the cheapest path, so that lines which merely cross or touch the outline are left alone.
// The answer is which stretch of which line makes up the outline, in order.
import type { Point } from '../../base/points.ts';
import { sub, unit } from '../../geometry/vector.ts';
import type { InkLine } from './inkLines.ts';
import { angleBetweenDeg, pointAtLength, runningLength, turned } from './polyline.ts';

/** A stretch of a line in the direction of the ring; `fromIndex` > `toIndex` when the line runs the other way. */
export interface RimRun {
  readonly line: number;
  readonly fromIndex: number;
  readonly toIndex: number;
}

/** Found by trial on rendered sheets; costs are per station of the rim. */
const FOLLOW = {
  stationMm: 1,
  /** The rim is true to about a raster cell, and rounded where two lines meet. */
  reachMm: 4.5,
  tangentHalfMm: 4,
  turnMostDeg: 50,
  noLineCost: 2,
  loseLineCost: 4,
  changeLineCost: 8,
  jumpCostPerMm: 4,
  offsetCostPerMm2: 0.03,
  turnCost: 0.8,
  /** The line may advance along itself by this many times the rim's step before it counts as a jump. */
  advanceMostMm: 3.5,
  leastRunMm: 1.5,
} as const;

interface Candidate {
  readonly line: number;
  readonly index: number;
  /** Running length on the line. */
  readonly at: number;
  /** +1 when the line runs with the ring. */
  readonly sense: 1 | -1;
  readonly offsetMm: number;
  readonly cost: number;
}

export function followRim(rim: readonly Point[], lines: readonly InkLine[]): RimRun[] {
  const stations = stationsOf(rim);
  const index = new LineIndex(lines);
  const candidates = stations.map((station) => index.crossing(station));
  // twice round, so that the seam at the start does not matter; the second half of the path is read
  const path = cheapestPath([...candidates, ...candidates]);
  const n = stations.length;
  const shift = Math.floor(n / 2);
  const turn = path.slice(shift, shift + n);
  return runsOf(turn, lines);
}

interface Station {
  readonly at: Point;
  readonly along: Point;
}

function stationsOf(rim: readonly Point[]): Station[] {
  const closed = [...rim, rim[0]!];
  const lengths = runningLength(closed);
  const total = lengths[closed.length - 1]!;
  const count = Math.round(total / FOLLOW.stationMm);
  const at = (mm: number): Point => pointAtLength(closed, lengths, ((mm % total) + total) % total);
  return Array.from({ length: count }, (_, i) => {
    const mm = (i * total) / count;
    // the raster's steps average out over the chord and its neighbours
    const h = FOLLOW.tangentHalfMm;
    const along = unit(sub(at(mm + h), at(mm - h)));
    return { at: at(mm), along };
  });
}

/** Points of all lines by cell, for the crossings with a station's normal. */
class LineIndex {
  private readonly cells = new Map<number, number[]>();
  private readonly lines: readonly InkLine[];
  private readonly lengths: Float64Array[];
  private static readonly CELL_MM = 5;

  constructor(lines: readonly InkLine[]) {
    this.lines = lines;
    this.lengths = lines.map((line) => runningLength(line.points));
    lines.forEach((line, l) => {
      line.points.forEach((p, i) => {
        const key = this.key(p[0], p[1]);
        const list = this.cells.get(key);
        if (list) list.push(l, i);
        else this.cells.set(key, [l, i]);
      });
    });
  }

  private key(x: number, y: number): number {
    return Math.floor(x / LineIndex.CELL_MM) * 65536 + Math.floor(y / LineIndex.CELL_MM);
  }

  /** Where lines cross the station's normal: the nearest point of each line to the normal, one per line and place. */
  crossing({ at, along }: Station): Candidate[] {
    const across = turned(along);
    const nearest = new Map<string, { candidate: Candidate; off: number }>();
    const r = LineIndex.CELL_MM;
    for (let dx = -r; dx <= r; dx += r)
      for (let dy = -r; dy <= r; dy += r)
        for (const [l, i] of pairs(this.cells.get(this.key(at[0] + dx, at[1] + dy)))) {
          const line = this.lines[l]!;
          const p = line.points[i]!;
          const d = sub(p, at);
          const off = Math.abs(d[0] * along[0] + d[1] * along[1]);
          const offsetMm = d[0] * across[0] + d[1] * across[1];
          if (off > FOLLOW.stationMm || Math.abs(offsetMm) > FOLLOW.reachMm) continue;
          const direction = this.directionAt(l, i);
          const turnDeg = angleBetweenDeg(direction, along);
          const sense = turnDeg > 90 ? -1 : 1;
          const bentDeg = Math.min(turnDeg, 180 - turnDeg);
          if (bentDeg > FOLLOW.turnMostDeg) continue;
          const key = `${l}:${Math.round(offsetMm / 1.5)}`;
          const known = nearest.get(key);
          if (known && known.off <= off) continue;
          const cost =
            FOLLOW.offsetCostPerMm2 * offsetMm * offsetMm + FOLLOW.turnCost * (bentDeg / FOLLOW.turnMostDeg) ** 2;
          nearest.set(key, { candidate: { line: l, index: i, at: this.lengths[l]![i]!, sense, offsetMm, cost }, off });
        }
    return [...nearest.values()].map(({ candidate }) => candidate);
  }

  private directionAt(l: number, i: number): Point {
    const points = this.lines[l]!.points;
    return sub(points[Math.min(points.length - 1, i + 3)]!, points[Math.max(0, i - 3)]!);
  }
}

function* pairs(flat: readonly number[] | undefined): Generator<[number, number]> {
  if (!flat) return;
  for (let k = 0; k + 1 < flat.length; k += 2) yield [flat[k]!, flat[k + 1]!];
}

/** Viterbi over stations; null = no line at this station. */
function cheapestPath(candidates: readonly (readonly Candidate[])[]): (Candidate | null)[] {
  const back: Int32Array[] = [];
  let before: readonly (Candidate | null)[] = [null];
  let costs: number[] = [0];
  for (const list of candidates) {
    const states: (Candidate | null)[] = [null, ...list];
    const from = new Int32Array(states.length);
    const next = states.map((state, s) => {
      let best = Number.POSITIVE_INFINITY;
      for (let k = 0; k < before.length; k++) {
        const cost = costs[k]! + stepCost(before[k]!, state);
        if (cost < best) {
          best = cost;
          from[s] = k;
        }
      }
      return best + (state === null ? FOLLOW.noLineCost : state.cost);
    });
    back.push(from);
    before = states;
    costs = next;
  }
  let state = costs.indexOf(Math.min(...costs));
  const path: (Candidate | null)[] = [];
  for (let i = candidates.length - 1; i >= 0; i--) {
    path.push(state === 0 ? null : candidates[i]![state - 1]!);
    state = back[i]![state]!;
  }
  return path.reverse();
}

function stepCost(a: Candidate | null, b: Candidate | null): number {
  if (a === null && b === null) return 0;
  if (a === null || b === null) return FOLLOW.loseLineCost;
  if (a.line === b.line && a.sense === b.sense) {
    const advance = (b.at - a.at) * a.sense;
    if (advance >= -FOLLOW.stationMm / 2 && advance <= FOLLOW.advanceMostMm) return 0;
  }
  return FOLLOW.changeLineCost + FOLLOW.jumpCostPerMm * Math.abs(a.offsetMm - b.offsetMm);
}

function runsOf(path: readonly (Candidate | null)[], lines: readonly InkLine[]): RimRun[] {
  // begin where a run begins, so that none is split by the start
  const n = path.length;
  const isStart = (i: number): boolean => {
    const here = path[i] ?? null;
    const before = path[(i + n - 1) % n] ?? null;
    return here !== null && !sameRun(before, here);
  };
  let start = 0;
  while (start < n && !isStart(start)) start++;
  if (start === n) start = path.findIndex((state) => state !== null);
  if (start < 0) return [];
  const runs: { line: number; fromIndex: number; toIndex: number; sense: 1 | -1 }[] = [];
  let last: Candidate | null = null;
  for (let k = 0; k < n; k++) {
    const here = path[(start + k) % n] ?? null;
    if (here !== null) {
      if (last !== null && sameRun(last, here)) runs[runs.length - 1]!.toIndex = here.index;
      else runs.push({ line: here.line, fromIndex: here.index, toIndex: here.index, sense: here.sense });
    }
    last = here;
  }
  return mergedRuns(runs, lines);
}

function sameRun(a: Candidate | null, b: Candidate): boolean {
  if (a === null || a.line !== b.line || a.sense !== b.sense) return false;
  const advance = (b.at - a.at) * a.sense;
  return advance >= -FOLLOW.stationMm && advance <= FOLLOW.advanceMostMm;
}

/** Runs of one line that follow one another become one; specks go. */
function mergedRuns(
  runs: readonly { line: number; fromIndex: number; toIndex: number; sense: 1 | -1 }[],
  lines: readonly InkLine[],
): RimRun[] {
  const lengthOf = (line: number, a: number, b: number): number => {
    const lengths = runningLength(lines[line]!.points.slice(Math.min(a, b), Math.max(a, b) + 1));
    return lengths[lengths.length - 1] ?? 0;
  };
  const kept = runs.filter((run) => lengthOf(run.line, run.fromIndex, run.toIndex) >= FOLLOW.leastRunMm);
  const merged: { line: number; fromIndex: number; toIndex: number; sense: 1 | -1 }[] = [];
  for (const run of kept) {
    const before = merged[merged.length - 1];
    const follows =
      before !== undefined &&
      before.line === run.line &&
      before.sense === run.sense &&
      (run.fromIndex - before.toIndex) * run.sense >= 0 &&
      lengthOf(run.line, before.toIndex, run.fromIndex) <= 4 * FOLLOW.reachMm;
    if (follows) before.toIndex = run.toIndex;
    else merged.push({ ...run });
  }
  return merged;
}
