// Proposals for pieces of paper: even areas, and even areas joined where only the light changes between them, that end in a
// sharp step all around. Light multiplies what it falls on, so the rim of a shadow makes the same step on the paper as on
// the table beside it; that is how it is told from the edge of another material.
import { away, type Colour, meanColour, medianColour } from '../colour.ts';
import { type BlockGrid, DARK_FLOOR } from './blockGrid.ts';
import { type CellRim, cellRim, type RimPlace } from './cellRim.ts';
import type { GridBox } from './cropGrid.ts';
import { type FlatCell, fencesAt, flatCells, unevenness } from './flatCells.ts';
import { distanceToSet, grown, holesFilled, shrunk } from './maskOps.ts';

const PROPOSE = {
  /** Change of log light over two blocks that still counts as even, strictest first. */
  evenness: [0.022, 0.036, 0.06, 0.1, 0.16],
  /** Gaps in the fence up to twice this wide are closed. */
  closeMm: [2.4, 4.8, 8],
  /** Parts of a piece that lie in another light may be as small as this. */
  leastPartMm2: 300,
  /** Half the width of the narrowest piece, less what its fence takes. */
  leastDepthMm: 8,
  /** Share of the rim that must be one sharp step. */
  leastSharp: 0.7,
  /** An area this much less sharp at its rim may still be preferred for being the larger. */
  sharpAllowance: 0.06,
  /** Areas that light alone divides belong together. */
  joinedBonus: 0.1,
  /** Perimeter over the root of the area. */
  mostRagged: 9,
} as const;

const CHOOSE = {
  /** Share of an area that may already be another's. */
  overlapShare: 0.1,
  /** Share of its rim that may lie this many blocks beside another. */
  besideShare: 0.15,
  besideBlocks: 2,
} as const;

/** A patterned table is full of fences; paper is larger than what lies between them. */
const PATTERN = {
  ringFromMm: 4,
  ringToMm: 22,
  /** Share of the table beside the cards that is fence when it is patterned. */
  leastFence: 0.25,
  /** Depth of paper over the depth of the pattern's own areas: of the table's colour, of another. */
  alikeDepth: 1.6,
  otherDepth: 1.25,
  /** Alike: this near in log brightness and in colour to this share of the table beside the cards. */
  lightness: 0.15,
  colour: 0.07,
  share: 0.03,
} as const;

const JOIN = {
  /** The rim of a shadow is this wide at most. */
  gapMm: 20,
  /** Log light in the gap may lie this much beyond that of both sides. */
  gapTolerance: 0.12,
  /** The table in a gap is this much nearer to the table beside than the paper is. */
  tableShare: 0.4,
  /** Blocks of rim that must look at one another, and that must lie beside them. */
  leastPlaces: 6,
  /** Surroundings this near to where two areas meet are compared. */
  nearMm: 60,
  /** Nearer than this the shadow's own rim lies beside the edge. */
  shyMm: 16,
  /** Log light by which the step on the table may differ from the step on the paper, and the same as a share of the step. */
  tolerance: 0.1,
  toleranceShare: 0.3,
  /** Log light below which a surface shows no colour. */
  colourless: Math.log(0.06),
  /** A change of light changes colour by this share of the change of brightness at most. */
  colourShare: 0.35,
  colourFloor: 0.06,
} as const;

interface PaperCell {
  readonly mask: Uint8Array;
  readonly box: GridBox;
  readonly sharpRatio: number;
}

interface Candidate extends FlatCell {
  readonly rim: CellRim;
  readonly parts: number;
}

/** @param barred 1 on blocks that no whole piece reaches: the end of the photo, the surroundings of cards */
export function paperCells(grid: BlockGrid, barred: Uint8Array, minPieceMm2: number): PaperCell[] {
  const uneven = unevenness(grid);
  const besideCards = ringsOf(grid);
  const perMm2 = 1 / grid.mmPerBlock ** 2;
  const found: Candidate[] = [];
  for (const evenness of PROPOSE.evenness) {
    const { clear, tableFence, tableDepth } = fencesAt(grid, uneven, evenness, besideCards);
    for (const closeMm of PROPOSE.closeMm) {
      const cells = flatCells(grid, clear, closeMm / grid.mmPerBlock, PROPOSE.leastPartMm2 * perMm2);
      const apart = cells
        .filter((cell) => !touches(grid, cell, barred))
        .filter((cell) => {
          if (tableFence < PATTERN.leastFence || cell.depth > PATTERN.alikeDepth * tableDepth) return true;
          return cell.depth > PATTERN.otherDepth * tableDepth && !looksLikeTable(grid, cell, besideCards);
        })
        .map((cell): Candidate => ({ ...cell, rim: cellRim(grid, cell), parts: 1 }));
      found.push(...apart, ...joinedCells(grid, apart));
    }
  }
  const least = { blocks: minPieceMm2 * perMm2, depth: PROPOSE.leastDepthMm / grid.mmPerBlock };
  const good = found.filter(
    (cell) =>
      cell.blocks >= least.blocks &&
      cell.rim.sharpRatio >= PROPOSE.leastSharp &&
      cell.rim.blockedRatio < 0.5 &&
      cell.rim.places.length / Math.sqrt(cell.blocks) < PROPOSE.mostRagged &&
      cell.depth >= least.depth,
  );
  return chosen(grid, good).map(({ mask, box, rim }) => ({ mask, box, sharpRatio: rim.sharpRatio }));
}

function ringsOf(grid: BlockGrid): Uint8Array {
  const far = distanceToSet(grid.card, grid.width, grid.height);
  return Uint8Array.from(far, (blocks, i) => {
    const awayMm = blocks * grid.mmPerBlock;
    return grid.usable[i] === 1 && awayMm >= PATTERN.ringFromMm && awayMm <= PATTERN.ringToMm ? 1 : 0;
  });
}

/** True when the colour of a cell is one that the table has beside the cards. */
function looksLikeTable(grid: BlockGrid, { mask, box }: FlatCell, besideCards: Uint8Array): boolean {
  const mean = [0, 0, 0];
  let n = 0;
  for (let y = 0, i = 0; y < box.height; y++)
    for (let x = 0; x < box.width; x++, i++) {
      if (mask[i] === 0) continue;
      const at = (box.y0 + y) * grid.width + box.x0 + x;
      mean[0]! += grid.lightness[at]!;
      mean[1]! += grid.redness[at]!;
      mean[2]! += grid.blueness[at]!;
      n++;
    }
  let alike = 0;
  let all = 0;
  for (let i = 0; i < besideCards.length; i++) {
    if (besideCards[i] === 0) continue;
    all++;
    const colour = Math.hypot(grid.redness[i]! - mean[1]! / n, grid.blueness[i]! - mean[2]! / n);
    if (Math.abs(grid.lightness[i]! - mean[0]! / n) < PATTERN.lightness && colour < PATTERN.colour) alike++;
  }
  return alike > PATTERN.share * all;
}

function touches(grid: BlockGrid, { mask, box }: FlatCell, barred: Uint8Array): boolean {
  for (let y = 0, i = 0; y < box.height; y++)
    for (let x = 0; x < box.width; x++, i++)
      if (mask[i] === 1 && barred[(box.y0 + y) * grid.width + box.x0 + x] === 1) return true;
  return false;
}

/** The best of every place: large and sharp. */
function chosen(grid: BlockGrid, cells: readonly Candidate[]): Candidate[] {
  const order = [...cells].sort((a, b) => worth(b) - worth(a));
  const taken = new Uint8Array(grid.width * grid.height);
  const out: Candidate[] = [];
  for (const cell of order) {
    let over = 0;
    const each = (visit: (block: number) => void): void => {
      for (let y = 0, i = 0; y < cell.box.height; y++)
        for (let x = 0; x < cell.box.width; x++, i++)
          if (cell.mask[i] === 1) visit((cell.box.y0 + y) * grid.width + cell.box.x0 + x);
    };
    each((block) => {
      over += taken[block]!;
    });
    if (over > CHOOSE.overlapShare * cell.blocks || besideTaken(grid, cell, taken) > CHOOSE.besideShare) continue;
    each((block) => {
      taken[block] = 1;
    });
    out.push(cell);
  }
  return out;
}

/** Share of the rim right beside what is taken: no paper shares an edge with another, but table in another light does. */
function besideTaken(grid: BlockGrid, { rim }: Candidate, taken: Uint8Array): number {
  let beside = 0;
  for (const { x, y, nx, ny } of rim.places) {
    for (let t = 0; t <= CHOOSE.besideBlocks; t++) {
      const at = Math.round(y - ny * t) * grid.width + Math.round(x - nx * t);
      if (taken[at] !== 1) continue;
      beside++;
      break;
    }
  }
  return beside / rim.places.length;
}

/** Sharpness of the rim counts, and among nearly equals the size. */
function worth({ rim, blocks, parts }: Candidate): number {
  return rim.sharpRatio + PROPOSE.sharpAllowance * Math.log2(blocks) + (parts > 1 ? PROPOSE.joinedBonus : 0);
}

/** Groups of cells with nothing but a change of light between them. */
function joinedCells(grid: BlockGrid, cells: readonly Candidate[]): Candidate[] {
  if (cells.length < 2) return [];
  const owner = new Int32Array(grid.width * grid.height).fill(-1);
  cells.forEach((cell, k) => {
    for (let y = 0, i = 0; y < cell.box.height; y++)
      for (let x = 0; x < cell.box.width; x++, i++)
        if (cell.mask[i] === 1) owner[(cell.box.y0 + y) * grid.width + cell.box.x0 + x] = k;
  });
  const facing = cells.map((cell, k) => facingPlaces(grid, cell, k, owner));
  const meets = new Set<number>();
  facing.forEach((places, k) => {
    const counts = new Map<number, number>();
    for (const place of places) if (place !== null) counts.set(place.cell, (counts.get(place.cell) ?? 0) + 1);
    for (const [other, count] of counts)
      if (count >= JOIN.leastPlaces) meets.add(Math.min(k, other) * cells.length + Math.max(k, other));
  });
  const group = cells.map((_, k) => k);
  const rootOf = (k: number): number => (group[k] === k ? k : rootOf(group[k]!));
  for (let a = 0; a < cells.length; a++) {
    for (let b = a + 1; b < cells.length; b++) {
      if (!meets.has(a * cells.length + b)) continue;
      if (isOneSurface(grid, cells[a]!, facing[a]!, a, cells[b]!, facing[b]!, b)) group[rootOf(b)] = rootOf(a);
    }
  }
  const groups = new Map<number, Candidate[]>();
  cells.forEach((cell, k) => {
    const root = rootOf(k);
    groups.set(root, [...(groups.get(root) ?? []), cell]);
  });
  return [...groups.values()].filter((members) => members.length > 1).map((members) => united(grid, members));
}

/** For every place of the rim the cell it looks at over a gap, -1 for none, and the colour there. */
interface Facing {
  readonly cell: number;
  /** What lies in the gap, when it is neither's. */
  readonly between: Colour | null;
  readonly step: Colour;
}

function facingPlaces(grid: BlockGrid, cell: Candidate, own: number, owner: Int32Array): (Facing | null)[] {
  const reach = Math.round(JOIN.gapMm / grid.mmPerBlock);
  return cell.rim.places.map((place): Facing | null => {
    for (let t = 0; t <= reach; t++) {
      const x = Math.round(place.x - place.nx * t);
      const y = Math.round(place.y - place.ny * t);
      if (x < 0 || y < 0 || x >= grid.width || y >= grid.height) return null;
      const other = owner[y * grid.width + x]!;
      if (other < 0 || other === own) continue;
      const xx = Math.round(x - place.nx * 3);
      const yy = Math.round(y - place.ny * 3);
      if (xx < 0 || yy < 0 || xx >= grid.width || yy >= grid.height) return null;
      const at = yy * grid.width + xx;
      const deep = Math.round(place.y + place.ny * 3) * grid.width + Math.round(place.x + place.nx * 3);
      return {
        cell: other,
        between: oddBetween(grid, place, t + 3),
        step: [
          grid.lightness[at]! - grid.lightness[deep]!,
          grid.redness[at]! - grid.redness[deep]!,
          grid.blueness[at]! - grid.blueness[deep]!,
        ],
      };
    }
    return null;
  });
}

/** What lies in a gap, when its light is not between that of both sides: the colour farthest off; null otherwise. */
function oddBetween(
  { width, lightness, redness, blueness }: BlockGrid,
  { x, y, nx, ny }: RimPlace,
  length: number,
): Colour | null {
  const block = (t: number): number => Math.round(y - ny * t) * width + Math.round(x - nx * t);
  const ends = [lightness[block(-3)]!, lightness[block(length)]!];
  let odd = -1;
  let most: number = JOIN.gapTolerance;
  for (let t = -2; t < length; t++) {
    const value = lightness[block(t)]!;
    const off = Math.max(Math.min(...ends) - value, value - Math.max(...ends));
    if (off <= most) continue;
    most = off;
    odd = block(t);
  }
  return odd < 0 ? null : [lightness[odd]!, redness[odd]!, blueness[odd]!];
}

/** Log light of a place under a light that is stronger by `by`: the floor under the logarithm stays. */
function relit(lightness: number, by: number): number {
  return Math.log(Math.max(0, Math.exp(lightness) - DARK_FLOOR) * Math.exp(by) + DARK_FLOOR);
}

function isOneSurface(
  grid: BlockGrid,
  a: Candidate,
  fromA: readonly (Facing | null)[],
  nameA: number,
  b: Candidate,
  fromB: readonly (Facing | null)[],
  nameB: number,
): boolean {
  const meetA = a.rim.places.filter((_, i) => fromA[i]?.cell === nameB);
  const meetB = b.rim.places.filter((_, i) => fromB[i]?.cell === nameA);
  const steps = [
    ...fromA.filter((f) => f?.cell === nameB).map((f) => f!.step),
    ...fromB.filter((f) => f?.cell === nameA).map((f) => f!.step.map((v) => -v) as [number, number, number]),
  ];
  const inner = medianColour(steps);
  if (Math.hypot(inner[1], inner[2]) > JOIN.colourFloor + JOIN.colourShare * Math.abs(inner[0])) return false;
  const near = JOIN.nearMm / grid.mmPerBlock;
  const shy = JOIN.shyMm / grid.mmPerBlock;
  const beside = (cell: Candidate, facing: readonly (Facing | null)[], meets: readonly RimPlace[]): RimPlace[] => {
    const ranked = cell.rim.places
      .filter((place, i) => facing[i] === null && !place.blocked)
      .map((place) => ({
        place,
        away: Math.min(...meets.map((meet) => Math.hypot(meet.x - place.x, meet.y - place.y))),
      }))
      .filter(({ away }) => away < near)
      .sort((p, q) => q.away - p.away);
    const far = ranked.filter(({ away }) => away > shy);
    const count = Math.max(JOIN.leastPlaces, Math.ceil(far.length / 2));
    return ranked.slice(0, count).map(({ place }) => place);
  };
  const besideA = beside(a, fromA, [...meetA, ...meetB]);
  const besideB = beside(b, fromB, [...meetA, ...meetB]);
  if (Math.min(besideA.length, besideB.length) < JOIN.leastPlaces) return false;
  const outA = meanColour(besideA.map(({ outside }) => outside));
  const outB = meanColour(besideB.map(({ outside }) => outside));
  const odd = [...fromA.filter((f) => f?.cell === nameB), ...fromB.filter((f) => f?.cell === nameA)];
  const gaps = odd.flatMap((f) => (f!.between === null ? [] : [f!.between]));
  if (gaps.length * 2 > odd.length) {
    // a narrow shadow on the paper, or the table between two papers: then it looks like the table beside them
    const gap = medianColour(gaps);
    const paper = meanColour(besideA.map(({ inside }) => inside));
    if (away(gap, outA) < JOIN.tableShare * away(paper, outA)) return false;
  }
  const lightOff = outB[0] - relit(outA[0], inner[0]);
  const isDark = Math.min(outA[0], outB[0]) < JOIN.colourless;
  const colourOff = isDark ? 0 : Math.hypot(outB[1] - outA[1] - inner[1], outB[2] - outA[2] - inner[2]);
  return Math.hypot(lightOff, colourOff) < JOIN.tolerance + JOIN.toleranceShare * Math.hypot(...inner);
}

function united(grid: BlockGrid, members: readonly Candidate[]): Candidate {
  const x0 = Math.min(...members.map(({ box }) => box.x0));
  const y0 = Math.min(...members.map(({ box }) => box.y0));
  const x1 = Math.max(...members.map(({ box }) => box.x0 + box.width));
  const y1 = Math.max(...members.map(({ box }) => box.y0 + box.height));
  const box: GridBox = { x0, y0, width: x1 - x0, height: y1 - y0 };
  let mask: Uint8Array = new Uint8Array(box.width * box.height);
  for (const member of members) {
    for (let y = 0, i = 0; y < member.box.height; y++)
      for (let x = 0; x < member.box.width; x++, i++)
        if (member.mask[i] === 1) mask[(member.box.y0 + y - y0) * box.width + member.box.x0 + x - x0] = 1;
  }
  const gap = JOIN.gapMm / grid.mmPerBlock / 2;
  mask = shrunk(grown(mask, box.width, box.height, gap), box.width, box.height, gap);
  mask = holesFilled(mask, box.width, box.height, Number.POSITIVE_INFINITY);
  const blocks = mask.reduce((sum, value) => sum + value, 0);
  const whole = { mask, box, blocks, depth: Math.max(...members.map(({ depth }) => depth)) };
  return { ...whole, rim: cellRim(grid, whole), parts: members.length };
}
