// What is sewn to the edges of a garment: collars, bands, cuffs, skirts and their tiers, facings, linings.
import {
  bodySide,
  isBodice,
  isCollar,
  isKnownLabel,
  isSkirt,
  isSleeve,
  isTrouser,
  mayHaveFreeEdges,
} from '../kinds.ts';
import type { Piece } from '../model.ts';
import { bestWay, type Ends, type NamedEdge, wholeEdge } from '../orientSpan.ts';
import {
  chainMm,
  FROM_CENTRE,
  hasMouths,
  isInBothLayers,
  isKind,
  isNear,
  joinFor,
  type Link,
  lengthOf,
  MOST_GATHERED,
  nearestInLength,
  type SeamBook,
  spanOf,
  toward,
  writtenLabel,
} from './book.ts';
import { handOf, isCutAway, isLowerYoke } from './panels.ts';

const OVER_SHOULDER: Ends = { start: ['raglan front'], end: ['raglan back'] };
/** Of the two long edges of a band between bodice and skirt, names of the upper one. */
const UPPER_EDGE: readonly string[] = ['upper', 'top', 'bodice', 'bib'];
const LOWER_EDGE: readonly string[] = ['waist', 'lower', 'hem', 'skirt'];
/** A facing is drawn along the edge it lies under: nearer in length than two edges that only happen to be alike. Own setting, no source. */
const TRACED_RATIO = 1.15;

/** Collar, stand or neckband to the neckline, the collar to its stand, and its two layers to each other. */
export function proposeCollars(book: SeamBook): void {
  const neck = necklineOf(book);
  const bands = book.set.pieces.filter((p) => isCollar(p.kind) && p.kind !== 'collar');
  const collars = book.set.pieces.filter((p) => p.kind === 'collar');
  const around = bands.length > 0 ? bands : collars;
  const isBinding = around.every((p) => p.grainIntent === 'bias' && p.kind === 'neckband');
  const join = isBinding ? 'bound' : 'even';
  if (!book.joinBand('neck', neck, around, join, ['neck']))
    book.joinBand('neck and front edges', [...frontEdgesOf(book, neck), ...neck], around, join, ['neck']);
  const onStand = book.free((e) => e.piece.kind === 'stand' && ['upper', 'top', 'collar'].includes(writtenLabel(e)));
  const onCollar = book.free((e) => e.piece.kind === 'collar' && ['neck', 'stand'].includes(writtenLabel(e)));
  for (const [a, b] of nearestInLength(onStand, onCollar)) book.joinTwo('collar', a, b, FROM_CENTRE, 'even');
  proposeLayers(book, collars);
}

/** Front neck, top of a raglan sleeve, back neck. */
function necklineOf(book: SeamBook): Link[] {
  const body = book.chain('neck', (e) => isBodice(e.piece.kind));
  const sleeves = book
    .chain('neck', (e) => isSleeve(e.piece.kind))
    .map(({ named }) => ({
      named,
      span: toward(named, OVER_SHOULDER),
    }));
  const isBack = ({ named }: Link) => bodySide(named.piece) === 'back';
  return [...body.filter((link) => !isBack(link)), ...sleeves, ...body.filter(isBack)];
}

/** Edges that run on from the neckline down to the hem: a band along a jacket without fastening goes down there too. */
function frontEdgesOf(book: SeamBook, neck: readonly Link[]): Link[] {
  return neck.flatMap(({ named }): Link[] => {
    const { ring } = named.shape;
    const at = ring.findIndex(({ id }) => id === named.edge);
    const beside = [ring.at(at - 1)!, ring[(at + 1) % ring.length]!].map(({ id }) => id);
    const front = book.free(
      (e) =>
        e.piece === named.piece &&
        bodySide(e.piece) === 'front' &&
        beside.includes(e.edge) &&
        e.label !== 'shoulder' &&
        !e.label.startsWith('raglan'),
    );
    return front.map((e) => ({ named: e, span: toward(e, { start: ['hem'], end: ['neck'] }) }));
  });
}

/** An upper and an under collar: edges of one name, all but the neck. */
function proposeLayers(book: SeamBook, collars: readonly Piece[]): void {
  const isUnder = ({ name }: Piece) => /\bunder\b/i.test(name);
  // The under collar is the smaller one, to which the upper is eased.
  const [first, second, more] = collars.toSorted((a, b) => Number(isUnder(b)) - Number(isUnder(a)));
  if (first === undefined || second === undefined || more !== undefined) return;
  const of = (piece: Piece) => book.free((e) => e.piece === piece && !isKnownLabel(writtenLabel(e)));
  for (const a of of(first)) {
    const same = of(second).filter((b) => writtenLabel(b) === writtenLabel(a));
    for (const [x, y] of nearestInLength([a], same, TRACED_RATIO))
      book.joinTwo(`collar ${writtenLabel(a)}`, x, y, FROM_CENTRE, 'eased');
  }
}

/** Bodice waist to skirt or trouser waist, with a waistband between or instead of either. */
export function proposeWaists(book: SeamBook): void {
  const isLower = (e: NamedEdge) => isSkirt(e.piece.kind) || isTrouser(e.piece.kind) || isLowerYoke(book, e.piece);
  const isUpper = (e: NamedEdge) => isBodice(e.piece.kind) && !isLowerYoke(book, e.piece);
  const lower = book.chain('waist', isLower);
  const upper = book.chain('waist', isUpper);
  if (lower.some(({ named }) => isCutAway(named))) return;
  const bands = book.set.pieces.filter((p) => p.kind === 'waistband');
  if (bands.length > 0 && book.layer === 'outer') {
    if (lower.length > 0) book.joinBand('waistband', lower, bands, 'eased', LOWER_EDGE);
    const edges = lower.length > 0 ? UPPER_EDGE : [...LOWER_EDGE, ...UPPER_EDGE];
    if (upper.length > 0)
      book.joinBand(lower.length > 0 ? 'upper waistband' : 'waistband', upper, bands, 'eased', edges);
    if (upper.length === 0 && lower.length === 0)
      book.joinBand('hem band', book.chain('hem', isUpper), bands, 'even', LOWER_EDGE);
    return;
  }
  if (lower.length === 0 || upper.length === 0) return;
  const join = joinFor(chainMm(upper), chainMm(lower), hasMouths(lower) ? 'pleated' : 'even');
  if (join !== null) book.propose('waist', upper.map(spanOf), lower.map(spanOf), join);
}

/** The lower edge of a tier to the top of the next, which is fuller. */
export function proposeTiers(book: SeamBook): void {
  const isPanel = (e: NamedEdge) => isSkirt(e.piece.kind) || isBodice(e.piece.kind);
  const called = (names: readonly string[]) => (e: NamedEdge) => isPanel(e) && names.includes(writtenLabel(e));
  for (const side of ['front', 'back'] as const) {
    const on = (e: NamedEdge) => bodySide(e.piece) === side;
    const lower = book.free((e) => on(e) && called(['lower', 'lower edge', 'hem'])(e));
    const upper = book.free((e) => on(e) && isSkirt(e.piece.kind) && called(['top', 'upper', 'top edge', 'waist'])(e));
    for (const [a, b] of nearestInLength(lower, upper, MOST_GATHERED)) {
      const join =
        a.piece === b.piece ? null : joinFor(lengthOf(a), lengthOf(b), hasMouths([{ named: b }]) ? 'pleated' : 'even');
      if (join !== null) book.joinTwo(`tier ${side}`, a, b, FROM_CENTRE, join);
    }
  }
}

/** Sleeve hem to its cuff or band. */
export function proposeCuffs(book: SeamBook): void {
  for (const sleeve of book.set.pieces.filter((p) => p.kind === 'sleeve')) {
    const [hem] = book.free((e) => e.piece === sleeve && e.label === 'hem');
    const cuffs = book.set.pieces.filter((p) => p.kind === 'cuff');
    if (hem === undefined || cuffs.length === 0) continue;
    const bands = book.bandEdges(cuffs, ['hem']);
    const [band] = nearestInLength(bands, [hem], MOST_GATHERED)[0] ?? [];
    if (band === undefined) continue;
    const first = [wholeEdge(band, 'forward')];
    const ways = [[wholeEdge(hem, 'forward')], [wholeEdge(hem, 'reversed')]];
    const join = joinFor(lengthOf(band), lengthOf(hem), hasMouths([{ named: hem }]) ? 'pleated' : 'even');
    if (join !== null) book.propose('sleeve band', first, bestWay(book.set, first, ways, hem.size), join);
  }
}

/** Facings to the garment edge of the same name, where no collar seam has used that facing. */
export function proposeFacings(book: SeamBook): void {
  for (const label of ['neck', 'armhole', 'waist']) {
    const facing = book.chain(label, isKind('facing'));
    if (facing.length === 0) continue;
    const isGarment = (e: NamedEdge) => isBodice(e.piece.kind) || isSkirt(e.piece.kind);
    const garment = book.chain(label, isGarment, 'taken too');
    const sides = new Set(facing.map((f) => bodySide(f.named.piece)));
    const hands = new Set(facing.map((f) => handOf(f.named.piece)));
    const faced = garment.filter(
      (g) =>
        (sides.has(null) || sides.has(bodySide(g.named.piece))) &&
        (hands.has(null) || hands.has(handOf(g.named.piece))),
    );
    if (faced.length === 0 || !isNear(chainMm(faced), chainMm(facing))) continue;
    const body = faced.map(spanOf);
    book.propose(`${label} facing`, body, book.bestChain(body, facing.map(spanOf), faced[0]!.named.size), 'even');
  }
  // A front facing is traced along every edge that it lies under.
  for (const edge of book.free(isKind('facing'))) {
    const label = writtenLabel(edge);
    if (label === '' || NOT_FACED.includes(label)) continue;
    const same = book.sewn((e) => e.piece.kind !== 'facing' && !isCollar(e.piece.kind) && writtenLabel(e) === label);
    for (const [a, b] of nearestInLength(same, [edge], TRACED_RATIO).slice(0, 1))
      book.joinTwo(`${label} facing`, a, b, FROM_CENTRE, 'even');
  }
}

/** Edges that a facing has of its own. */
const NOT_FACED: readonly string[] = [
  'shoulder',
  'side',
  'hem',
  'neck',
  'armhole',
  'waist',
  'inner edge',
  'inner',
  'lower',
  'top',
];

/** What a lining has left free is sewn to the edge of the same name of the garment or its facing. */
export function proposeLinings(book: SeamBook): void {
  for (const edge of book.free(({ piece }) => !isInBothLayers(piece) && !mayHaveFreeEdges(piece.kind))) {
    const label = edge.label === '' ? writtenLabel(edge) : edge.label;
    if (label === '') continue;
    const isOuter = ({ piece }: NamedEdge) =>
      piece.cut.length === 0 || piece.cut.some(({ material }) => material === 'shell');
    const same = book.edges.filter(
      (e) =>
        isOuter(e) &&
        (e.label === label || writtenLabel(e) === label) &&
        e.shape.ring.find(({ id }) => id === e.edge)?.role === 'seam' &&
        bodySide(e.piece) === bodySide(edge.piece) &&
        e.piece.kind === edge.piece.kind,
    );
    for (const [a, b] of nearestInLength(same, [edge]).slice(0, 1))
      book.joinTwo(label, a, b, FROM_CENTRE, hasMouths([{ named: a }, { named: b }]) ? 'pleated' : 'even');
  }
}
