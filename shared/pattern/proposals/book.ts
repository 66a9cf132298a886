// The proposals for one set while they are being made: what is still free, what has been found, and how two edges, or a band
// and a chain of edges, are put together. Which edges belong together is decided by the steps beside this file.
import { timesInRound } from '../cutList.ts';
import { edgeLabels } from '../guessEdges.ts';
import { bodySide, isSkirt, normalLabel } from '../kinds.ts';
import { sewnLength } from '../measure.ts';
import type { JoinKind, PatternSet, Piece, PieceKind, Seam, SeamSide, Size } from '../model.ts';
import { bestWay, type Ends, type NamedEdge, spanBetween, waysBeside, wholeEdge } from '../orientSpan.ts';

/** Edges further apart in length than this are not taken for partners: half against whole is 2. Own setting, no source. */
const LENGTH_RATIO = 1.35;
/** Fuller by this much or more it is gathered; beyond three times nobody gathers. Common practice, no source. */
const GATHERED_FROM = 1.3;
export const MOST_GATHERED = 3.05;

/** From the centre of the front out, or from the shoulder or side in to the centre of the back. */
export const FROM_CENTRE: Ends = {
  start: ['fold', 'centre front', 'centre back', 'opening'],
  end: ['shoulder', 'side', 'raglan', 'raglan front', 'raglan back'],
};
const TO_CENTRE: Ends = { start: FROM_CENTRE.end, end: FROM_CENTRE.start };

/** The outer garment and its lining are sewn up each by itself. */
export type Layer = 'outer' | 'lining';

export interface Link {
  readonly named: NamedEdge;
  readonly span: SeamSide[number];
}

export class SeamBook {
  readonly seams: Seam[] = [];
  readonly edges: readonly NamedEdge[];
  layer: Layer = 'outer';
  private readonly taken = new Set<string>();

  constructor(readonly set: PatternSet) {
    this.edges = set.pieces.flatMap((piece) => namedEdges(set, piece));
    for (const { piece, edge } of set.seams.filter((s) => s.status === 'confirmed').flatMap((s) => s.sides.flat(2))) {
      this.taken.add(keyOf('outer', piece, edge));
      this.taken.add(keyOf('lining', piece, edge));
    }
  }

  /** Edges of this layer that are to be sewn and are in no seam yet. */
  free(test: (edge: NamedEdge) => boolean): NamedEdge[] {
    return this.sewn((e) => !this.isTaken(e) && test(e));
  }

  /** The same, in a seam already or not. */
  sewn(test: (edge: NamedEdge) => boolean): NamedEdge[] {
    return this.edges.filter((e) => roleOf(e) === 'seam' && layersOf(e.piece).includes(this.layer) && test(e));
  }

  isTaken({ piece, edge }: NamedEdge): boolean {
    return this.taken.has(keyOf(this.layer, piece.id, edge));
  }

  /** Front pieces from their centre out, what lies between, then back pieces in to theirs. */
  chain(label: string, test: (edge: NamedEdge) => boolean, also: 'free only' | 'taken too' = 'free only'): Link[] {
    const wanted = (e: NamedEdge) => e.label === label && test(e);
    const all = also === 'taken too' ? this.sewn(wanted) : this.free(wanted);
    const front = all.filter((e) => bodySide(e.piece) !== 'back');
    const back = all.filter((e) => bodySide(e.piece) === 'back');
    // A skirt of two alike: the front goes on into its twin.
    const behind = back.length > 0 ? back : front.filter(({ piece }) => isFrontAndBack(piece)).toReversed();
    return [
      ...front.map((named) => ({ named, span: toward(named, FROM_CENTRE) })),
      ...behind.map((named) => ({ named, span: toward(named, front.length > 0 ? TO_CENTRE : FROM_CENTRE) })),
    ];
  }

  /** Two edges from their common end: by what lies beside them, else by their notches. */
  joinTwo(name: string, a: NamedEdge, b: NamedEdge, ends: Ends, join: JoinKind): void {
    const start = spanBetween(a, ends);
    const known = spanBetween(b, ends);
    const first: SeamSide = [start ?? wholeEdge(a, 'forward')];
    const beside = start !== null && known !== null ? null : waysBeside(a, first[0]!, b);
    const ways: SeamSide[] = [[wholeEdge(b, 'forward')], [wholeEdge(b, 'reversed')]];
    const second = start !== null && known !== null ? known : (beside ?? known);
    this.propose(name, first, second === null ? bestWay(this.set, first, ways, a.size) : [second], join);
  }

  /**
   * A band or collar, in one piece or in a front and a back, to a chain of garment edges. Nothing where no edge of it has
   * about the length of the chain, of half or all of it, or the chain is gathered onto it. True where one was proposed.
   */
  joinBand(
    name: string,
    chain: readonly Link[],
    pieces: readonly Piece[],
    join: JoinKind,
    labels: readonly string[],
  ): boolean {
    if (chain.length === 0 || pieces.length === 0) return false;
    const body = chain.map(spanOf);
    const parts = chain.flatMap(({ named }) => {
      const own = pieces.filter((p) => bodySide(p) !== null && bodySide(p) === bodySide(named.piece));
      const part = closestTo(this.bandEdges(own, labels), lengthOf(named), MOST_GATHERED);
      return part === undefined ? [] : [part];
    });
    const halfMm = chainMm(chain);
    if (parts.length === chain.length && new Set(parts).size === parts.length) {
      const band = parts.map((part, i) => toward(part, i === 0 ? FROM_CENTRE : TO_CENTRE));
      const bandMm = parts.reduce((sum, part) => sum + lengthOf(part), 0);
      const how = joinFor(bandMm, halfMm, join);
      if (how !== null) {
        this.propose(name, body, this.bestChain(body, band, parts[0]!.size), how);
        return true;
      }
    }
    const edges = this.bandEdges(pieces, labels);
    // A chain of a left and a right front is all of the round but for what is cut alike for both: no half to be gathered.
    const isHalf = chain.every(({ named }) => timesInRound(named.piece) !== 1);
    // What is itself half of the round, on the fold or one of a pair, is never laid on all of it.
    const maybeWhole = edges.filter(({ piece }) => timesInRound(piece) !== 2);
    const whole =
      closestTo(edges, halfMm) ??
      closestTo(maybeWhole, 2 * halfMm) ??
      (isHalf ? this.gatheredOn(edges, halfMm) : undefined);
    if (whole === undefined) return false;
    const wholeMm = lengthOf(whole) * (timesInRound(whole.piece) === 2 ? 1 : nearestTimes(lengthOf(whole), halfMm));
    // The chain runs from the centre of the front to that of the back, where a collar or a band has its fold.
    this.propose(
      name,
      body,
      this.bestChain(body, [toward(whole, TO_CENTRE)], whole.size),
      joinFor(wholeMm, halfMm, join) ?? join,
    );
    return true;
  }

  /** The band edge that the chain is gathered onto: its half, or where it is cut in one piece all of it. */
  private gatheredOn(edges: readonly NamedEdge[], halfMm: number): NamedEdge | undefined {
    return edges.find((e) => {
      const times = timesInRound(e.piece) === 1 ? 2 : 1;
      return isGathered((times * halfMm) / lengthOf(e));
    });
  }

  /** Edges of a band that may be the one sewn on: named so, or not named at all. */
  bandEdges(pieces: readonly Piece[], labels: readonly string[]): NamedEdge[] {
    const all = this.free((e) => pieces.includes(e.piece));
    const named = all.filter((e) => labels.includes(e.label) || labels.includes(writtenLabel(e)));
    return named.length > 0 ? named : all.filter((e) => e.label === '');
  }

  /**
   * The chain walked in the one of its ways that suits the notches of the other side best; the preferred way where
   * they do not tell.
   */
  bestChain(first: SeamSide, preferred: SeamSide, size: Size): SeamSide {
    const ways = (['forward', 'reversed'] as const).map((way) =>
      preferred.map((span) => ({ ...span, reversed: way === 'reversed' })),
    );
    return bestWay(this.set, first, [preferred, ...ways], size);
  }

  propose(name: string, first: SeamSide, second: SeamSide, join: JoinKind): void {
    for (const { piece, edge } of [...first, ...second]) this.taken.add(keyOf(this.layer, piece, edge));
    const known = new Set([...this.set.seams, ...this.seams].map((seam) => seam.id));
    const full = this.layer === 'lining' ? `lining ${name}` : name;
    const base = full.toLowerCase().replaceAll(/[^\p{L}\p{N}]+/gu, '-');
    let id = base;
    for (let n = 2; known.has(id); n++) id = `${base}-${n}`;
    this.seams.push({
      id,
      name: full,
      sides: [first, second],
      join,
      wantedEaseMm: null,
      wantedSectionsMm: null,
      overlapMm: 0,
      status: 'proposed',
    });
  }
}

const EXACT = { assumedAllowanceSigmaMm: 0 } as const;

function namedEdges(set: PatternSet, piece: Piece): NamedEdge[] {
  const size = piece.shapes[set.baseSize] === undefined ? Object.keys(piece.shapes)[0] : set.baseSize;
  const shape = size === undefined ? undefined : piece.shapes[size];
  if (size === undefined || shape === undefined) return [];
  const labels = edgeLabels(piece, shape);
  return shape.ring.map((edge) => ({ piece, shape, size, edge: edge.id, labels, label: labels.get(edge.id) ?? '' }));
}

/** A piece that is cut from both cloths is part of both layers. */
function layersOf({ cut }: Piece): readonly Layer[] {
  const has = (material: string) => cut.some((entry) => entry.material === material);
  if (!has('lining')) return ['outer'];
  return has('shell') ? ['outer', 'lining'] : ['lining'];
}

export function isInBothLayers(piece: Piece): boolean {
  return layersOf(piece).length > 1;
}

/** Pairs of edges nearest in sewn length; an edge has one partner. */
export function nearestInLength(
  first: readonly NamedEdge[],
  second: readonly NamedEdge[],
  mostRatio: number = LENGTH_RATIO,
): [NamedEdge, NamedEdge][] {
  const offers = first
    .flatMap((a) => second.filter((b) => b !== a).map((b) => ({ a, b, ratio: ratioOf(lengthOf(a), lengthOf(b)) })))
    .filter(({ ratio }) => ratio <= mostRatio)
    .toSorted((x, y) => x.ratio - y.ratio);
  const used = new Set<NamedEdge>();
  return offers.flatMap(({ a, b }): [NamedEdge, NamedEdge][] => {
    if (used.has(a) || used.has(b)) return [];
    used.add(a).add(b);
    return [[a, b]];
  });
}

/** Two skirts of one shape, each on the fold, are the front and the back. */
export function isFrontAndBack({ kind, cut }: Piece): boolean {
  return isSkirt(kind) && cut.some(({ material, count, onFold }) => material === 'shell' && count === 2 && onFold);
}

function closestTo(
  edges: readonly NamedEdge[],
  lengthMm: number,
  mostRatio: number = LENGTH_RATIO,
): NamedEdge | undefined {
  const near = edges
    .map((e) => ({ e, ratio: ratioOf(lengthOf(e), lengthMm) }))
    .filter(({ ratio }) => ratio <= mostRatio);
  return near.toSorted((a, b) => a.ratio - b.ratio)[0]?.e;
}

/** Half of a band is compared with half of the garment, or all of it with twice that half. */
function nearestTimes(bandMm: number, halfMm: number): number {
  return ratioOf(bandMm, halfMm) <= ratioOf(bandMm, 2 * halfMm) ? 1 : 1 / 2;
}

export function isNear(aMm: number, bMm: number): boolean {
  return ratioOf(aMm, bMm) <= LENGTH_RATIO;
}

/** Of equal length it is joined as usual, fuller it is gathered; null where neither can be. */
export function joinFor(fittedMm: number, fullMm: number, usual: JoinKind): JoinKind | null {
  if (isGathered(fullMm / fittedMm)) return 'gathered';
  return isNear(fittedMm, fullMm) ? usual : null;
}

function isGathered(ratio: number): boolean {
  return ratio >= GATHERED_FROM && ratio <= MOST_GATHERED;
}

function ratioOf(a: number, b: number): number {
  return Math.max(a, b) / Math.min(a, b);
}

export function lengthOf({ shape, edge }: NamedEdge): number {
  return sewnLength(shape, edge, null, EXACT).valueMm;
}

export function chainMm(chain: readonly Link[]): number {
  return chain.reduce((sum, { named }) => sum + lengthOf(named), 0);
}

export function hasMouths(links: readonly Pick<Link, 'named'>[]): boolean {
  return links.some(({ named }) => named.shape.pleats.some((pleat) => pleat.edge === named.edge));
}

/** The name as it stands on the edge: "top" and "lower" say nothing of what an edge is, except beside a yoke or a tier. */
export function writtenLabel({ shape, edge }: NamedEdge): string {
  return normalLabel(shape.ring.find((candidate) => candidate.id === edge)?.label ?? '');
}

export function toward(named: NamedEdge, ends: Ends): SeamSide[number] {
  return spanBetween(named, ends) ?? wholeEdge(named, 'forward');
}

/** Names of the other edges of the piece. */
export function labelsOf(book: SeamBook, piece: Piece): readonly string[] {
  return book.edges.filter((e) => e.piece === piece).map(({ label }) => label);
}

function roleOf({ shape, edge }: NamedEdge): string {
  return shape.ring.find((candidate) => candidate.id === edge)?.role ?? '';
}

function keyOf(layer: Layer, piece: string, edge: string): string {
  return JSON.stringify([layer, piece, edge]);
}

export function spanOf(link: Link): SeamSide[number] {
  return link.span;
}

export function isKind(...kinds: readonly PieceKind[]): (e: NamedEdge) => boolean {
  return ({ piece }) => kinds.includes(piece.kind);
}
