// A capture as `notchwise-trace/1`, the form in which other programs receive it.
import type { Point } from '../base/points.ts';
import { TRACE_FORMAT, type TraceV1 } from '../formats/trace/v1.ts';
import type { PhotoQuality } from '../vision/plane/photoQuality.ts';
import type { TracedMark, TracedPiece, UnsureStretch } from '../vision/traced.ts';
import type { Capture } from './captured.ts';

type PieceV1 = TraceV1['pieces'][number];
type QualityV1 = NonNullable<TraceV1['photos'][number]['quality']>;
type MarkV1 = PieceV1['marks'][number];

export function traceDocument(capture: Capture): TraceV1 {
  return {
    format: TRACE_FORMAT,
    photos: capture.photos.map(({ file, plane, quality }) => ({
      file,
      mmPerPixel: plane.mmPerPixel,
      tiltDeg: plane.tiltDeg,
      cards: plane.cards.map(({ id, residualPx }) => ({ id, residualPx })),
      quality: qualityDocument(quality),
    })),
    yAxis: 'down',
    pieces: capture.pieces.map(pieceDocument),
    warnings: capture.warnings.map(({ code, message }) => ({ code, message })),
  };
}

function qualityDocument({ cornerSigmaPx, worstRatio, map, advice }: PhotoQuality): QualityV1 {
  return {
    cornerSigmaPx,
    worstRatio: stated(worstRatio),
    map: { columns: map.columns, rows: map.rows, sigmaRatios: map.sigmaRatios.map(stated) },
    advice: advice.map(({ code, message }) => ({ code, message })),
  };
}

/** JSON has no infinity: where nothing is known, nothing is stated. Three digits are more than a sigma has. */
function stated(ratio: number): number | null {
  return Number.isFinite(ratio) ? Number(ratio.toPrecision(3)) : null;
}

function pieceDocument(piece: TracedPiece): PieceV1 {
  return {
    id: piece.id,
    photos: [...piece.photos],
    outline: { points: piece.outline.map(pair) },
    edges: piece.edges.map((edge) => ({
      id: edge.id,
      fromMm: pair(edge.curve[0]!),
      toMm: pair(edge.curve.at(-1)!),
      lengthMm: edge.lengthMm,
      sigmaMm: edge.sigmaMm,
    })),
    marks: piece.marks.map(markDocument),
    unsure: piece.unsure.flatMap((stretch) => unsureDocument(piece.outline, stretch)),
    sigmaMm: piece.pointSigmaMm,
  };
}

function unsureDocument(
  outline: TracedPiece['outline'],
  { fromIndex, toIndex, reason }: UnsureStretch,
): NonNullable<PieceV1['unsure']> {
  const count = (toIndex - fromIndex + outline.length) % outline.length;
  if (count === 0) return [];
  return [
    { reason, points: Array.from({ length: count + 1 }, (_, k) => pair(outline[(fromIndex + k) % outline.length]!)) },
  ];
}

function markDocument(mark: TracedMark): MarkV1 {
  const { confidence } = mark;
  switch (mark.kind) {
    case 'notch':
      return { kind: 'notch', atMm: pair(mark.at), count: mark.count, confidence };
    case 'dart':
      return { kind: 'dart', legsMm: [pair(mark.legs[0]), pair(mark.legs[1])], apexMm: pair(mark.apex), confidence };
    case 'grainline':
    case 'fold':
    case 'lengthen-shorten':
      return { kind: mark.kind, fromMm: pair(mark.from), toMm: pair(mark.to), confidence };
    case 'hole':
      return { kind: 'hole', atMm: pair(mark.at), confidence };
  }
}

function pair(point: Point): [number, number] {
  return [point[0], point[1]];
}
