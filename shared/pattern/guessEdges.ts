// Names for edges that nobody has named, from the kind of piece and its geometry: a bodice runs centre, neck, shoulder,
// armhole, side, waist, one way round or the other. Where no reading fits clearly better than the next, edges stay unnamed.
import { flattenPath, flattenRing } from '../geometry/flatten.ts';
import { isClockwise, signedAreaMm2 } from '../geometry/polygon.ts';
import { distance } from '../geometry/vector.ts';
import { bodySide, isKnownLabel, normalLabel } from './kinds.ts';
import type { Edge, Piece, PieceKind, Shape } from './model.ts';

/** What an edge of this name looks like. */
type Look = 'straight' | 'hollow' | 'domed' | 'any';

interface Expected {
  readonly label: string;
  readonly look: Look;
  /** The name must be this long against the longest edge of the piece, at most. */
  readonly atMostRatio?: number;
  readonly atLeastRatio?: number;
}

interface Outline {
  readonly kinds: readonly PieceKind[];
  /** In the order of the ring or against it. */
  readonly edges: readonly Expected[];
}

const OUTLINES: readonly Outline[] = [
  {
    kinds: ['front bodice', 'back bodice'],
    edges: [
      { label: 'centre', look: 'straight', atLeastRatio: 0.5 },
      { label: 'neck', look: 'hollow', atMostRatio: 0.75 },
      { label: 'shoulder', look: 'straight', atMostRatio: 0.6 },
      { label: 'armhole', look: 'hollow' },
      { label: 'side', look: 'straight' },
      { label: 'waist', look: 'any' },
    ],
  },
  {
    kinds: ['front skirt', 'back skirt'],
    edges: [
      { label: 'centre', look: 'straight', atLeastRatio: 0.7 },
      { label: 'waist', look: 'any', atMostRatio: 0.8 },
      { label: 'side', look: 'any', atLeastRatio: 0.7 },
      { label: 'hem', look: 'any' },
    ],
  },
  {
    kinds: ['sleeve'],
    edges: [
      { label: 'cap', look: 'domed', atLeastRatio: 0.6 },
      { label: 'underarm', look: 'straight' },
      { label: 'hem', look: 'any' },
      { label: 'underarm', look: 'straight' },
    ],
  },
  {
    kinds: ['trouser front', 'trouser back'],
    edges: [
      { label: 'waist', look: 'any', atMostRatio: 0.5 },
      { label: 'side', look: 'any', atLeastRatio: 0.85 },
      { label: 'hem', look: 'any', atMostRatio: 0.5 },
      { label: 'inseam', look: 'any', atLeastRatio: 0.5 },
      { label: 'rise', look: 'hollow', atMostRatio: 0.6 },
    ],
  },
];

/** Bulge of an edge: area between it and its chord over the chord squared, outward positive. A flat arc of rise s has 2/3 s/c. */
const STRAIGHT_BULGE = 0.02;
const CURVED_BULGE = 0.03;
/** A reading must fit in all of its looks but one, and better than every other reading. */
const LOOKS_MISSED = 1;
const CHORD_MM = 0.5;

/** The name of every edge by its id: the person's where it is a known one, else the guessed one, else ''. */
export function edgeLabels(piece: Pick<Piece, 'kind' | 'name'>, shape: Shape): ReadonlyMap<string, string> {
  const said = shape.ring.map((edge) => (isKnownLabel(edge.label) ? normalLabel(edge.label) : ''));
  const guessed = said.includes('') ? guess(piece, shape, said) : null;
  return new Map(shape.ring.map((edge, i) => [edge.id, said[i] !== '' ? said[i]! : (guessed?.[i] ?? '')]));
}

function guess(piece: Pick<Piece, 'kind' | 'name'>, shape: Shape, said: readonly string[]): readonly string[] | null {
  const outline = OUTLINES.find((o) => o.kinds.includes(piece.kind) && o.edges.length === shape.ring.length);
  if (outline === undefined) return null;
  const bulges = bulgesOf(shape);
  const chords = shape.ring.map(chordOf);
  const longest = Math.max(...chords);
  const readings = readingsOf(outline.edges).map((reading) => ({
    labels: reading.map((expected) => fullLabel(expected.label, piece)),
    missed: reading.reduce((sum, expected, i) => {
      const fits = looksLike(expected.look, bulges[i]!) && isSized(expected, chords[i]! / longest);
      return sum + (contradicts(expected.label, shape.ring[i]!, said[i]!, piece) ? Infinity : fits ? 0 : 1);
    }, 0),
  }));
  const [best, next] = readings.toSorted((a, b) => a.missed - b.missed);
  if (best === undefined || best.missed > LOOKS_MISSED) return null;
  const isClear = next === undefined || next.missed > best.missed || same(best.labels, next.labels);
  return isClear ? best.labels : null;
}

/** Every rotation of the outline, both ways round. */
function readingsOf(edges: readonly Expected[]): (readonly Expected[])[] {
  return [edges, edges.toReversed()].flatMap((list) => list.map((_, i) => [...list.slice(i), ...list.slice(0, i)]));
}

function fullLabel(label: string, piece: Pick<Piece, 'kind' | 'name'>): string {
  const side = bodySide(piece);
  return label === 'centre' && side !== null ? `centre ${side}` : label;
}

/** A fold lies at the centre, a hem at the hem, and a name that was given stays. */
function contradicts(label: string, edge: Edge, said: string, piece: Pick<Piece, 'kind' | 'name'>): boolean {
  if (edge.role === 'fold') return label !== 'centre';
  if (edge.role === 'hem') return label !== 'hem' && label !== 'waist';
  return said !== '' && said !== fullLabel(label, piece);
}

function looksLike(look: Look, bulge: number): boolean {
  switch (look) {
    case 'straight':
      return Math.abs(bulge) <= STRAIGHT_BULGE;
    case 'hollow':
      return bulge <= -CURVED_BULGE;
    case 'domed':
      return bulge >= CURVED_BULGE;
    case 'any':
      return true;
  }
}

function isSized({ atMostRatio = 1, atLeastRatio = 0 }: Expected, ratio: number): boolean {
  return ratio <= atMostRatio && ratio >= atLeastRatio;
}

function bulgesOf(shape: Shape): number[] {
  const handed = isClockwise(
    flattenRing(
      shape.ring.map((edge) => edge.curve),
      CHORD_MM,
    ),
  )
    ? 1
    : -1;
  return shape.ring.map((edge) => {
    const chord = chordOf(edge);
    return chord === 0 ? 0 : (handed * signedAreaMm2(flattenPath(edge.curve, CHORD_MM))) / chord ** 2;
  });
}

function chordOf(edge: Edge): number {
  return distance(edge.curve[0]!, edge.curve.at(-1)!);
}

function same(a: readonly string[], b: readonly string[]): boolean {
  return a.every((label, i) => label === b[i]);
}
