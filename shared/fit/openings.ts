// What head, hand and foot must pass: the neck, the end of the sleeve and of the trouser leg, with the bands that finish them
// and the slits that open them.
import { isBodice, isCentreName, isCollar, isSleeve, isTrouser } from '../pattern/kinds.ts';
import { addLength, type Length, makeLength, NO_LENGTH, sewnLength } from '../pattern/measure.ts';
import { seamlineOf } from '../pattern/seamline.ts';
import { type BandOnEdge, bandOn, edgeLines, type GirthEdge, girthOf, openingAt } from './edgeGirth.ts';
import { type Finished, missing, type Opening, taken } from './finishedMeasure.ts';
import { type Garment, missingHalf, timesRoundArm } from './garment.ts';
import { entriesOf, isHalved } from './girths.ts';
import { isHem } from './lengths.ts';

/** Around the neck edge, or around the free edge of the band that finishes it. */
export function neckOpening(garment: Garment): Finished {
  const edges = garment.pieces.filter(({ piece }) => isBodice(piece.kind)).flatMap((entry) => entriesOf(entry, 'neck'));
  if (edges.length === 0) return missing({ kind: 'no-piece' });
  const half = missingHalf(edges.map(({ piece }) => piece));
  if (half !== null) return missing(half);
  const girth = girthOf(edges, garment);
  const bands = neckbands(edges, garment);
  const closed = bands ?? girth;
  return taken('neck opening', closed, edgeLines(edges), {
    isHalved: isHalved(edges),
    notes: bands === null ? [] : ['by-band'],
    opening: openingAt(edges, closed, closed, garment),
  });
}

/** Around the end of one sleeve. */
export function handOpening(garment: Garment): Finished {
  const sleeves = garment.pieces.filter(({ piece }) => isSleeve(piece.kind));
  if (sleeves.length === 0) return missing({ kind: 'no-piece' });
  const edges = sleeves.flatMap((entry) =>
    seamlineOf(entry.shape)
      .edges.filter(({ edge }) => isHem(edge))
      .map((seam): GirthEdge => ({ ...entry, seam, times: timesRoundArm(entry) })),
  );
  if (edges.length === 0) return missing({ kind: 'no-edge', piece: sleeves[0]!.piece, edge: 'hem' });
  const girth = girthOf(edges, garment);
  const cuff = bandOn(edges, garment, ({ kind }) => kind === 'cuff' || kind === 'neckband');
  const single = cuff === null ? null : singleCuff(cuff);
  const closed = single ?? girth;
  const opening = openingAt(edges, closed, cuff?.join === 'elasticated' ? girth : closed, garment);
  return taken('hand opening', closed, edgeLines(edges), {
    isHalved: isHalved(edges),
    notes: cuff === null ? [] : ['by-band'],
    opening: cuff !== null && cuff.lapMm > 0 ? unbuttoned(opening, closed) : opening,
  });
}

/** A cuff that laps over is buttoned and opens all the way: as far as a slit half as long as it would. */
function unbuttoned(opening: Opening, closed: Length): Opening {
  return { ...opening, slitMm: closed.valueMm / 2, passes: addLength(closed, closed) };
}

/** Around the end of one trouser leg. */
export function footOpening(garment: Garment): Finished {
  const legs = garment.pieces.filter(({ piece }) => isTrouser(piece.kind));
  if (legs.length === 0) return missing({ kind: 'no-piece' });
  const edges = legs.flatMap((entry) =>
    seamlineOf(entry.shape)
      .edges.filter(({ edge }) => isHem(edge))
      .map((seam): GirthEdge => ({ ...entry, seam, times: 1 })),
  );
  if (edges.length === 0) return missing({ kind: 'no-edge', piece: legs[0]!.piece, edge: 'hem' });
  const half = missingHalf(edges.map(({ piece }) => piece));
  if (half !== null) return missing(half);
  const closed = girthOf(edges, garment);
  return taken('foot opening', closed, edgeLines(edges), { opening: openingAt(edges, closed, closed, garment) });
}

/** A cuff goes round once, however many layers are cut. */
function singleCuff({ walk, side, lapMm }: BandOnEdge) {
  return addLength(walk.sides[side].total, makeLength(lapMm, new Map(), 0), -1);
}

/**
 * The free edges of the bands around the neck, in proportion to their sewn edges; null without a band. A collar or a stand
 * stands up from the neck edge and does not narrow it.
 */
function neckbands(edges: readonly GirthEdge[], garment: Garment) {
  const { measuring, walks } = garment;
  const isBand = ({ kind }: { readonly kind: GirthEdge['piece']['kind'] }) => isCollar(kind) && kind === 'neckband';
  const sewn = walks.flatMap((walk) => {
    const band = bandOn(edges, { ...garment, walks: [walk] }, isBand);
    return band === null ? [] : [band];
  });
  if (sewn.length === 0) return null;
  return sewn.reduce((sum, { walk, side, length }) => {
    let [free, held] = [0, 0];
    for (const { shape, span } of walk.sides[side].spans) {
      held += sewnLength(shape, span.edge, span.stretch, measuring).valueMm;
      free += seamlineOf(shape)
        .edges.filter(
          ({ edge }) =>
            edge.role === 'opening' && edge.id !== span.edge && edge.label !== '' && !isCentreName(edge.label),
        )
        .reduce((most, { lengthMm }) => Math.max(most, lengthMm), 0);
    }
    return addLength(sum, length, free === 0 || held === 0 ? 1 : free / held);
  }, NO_LENGTH);
}
