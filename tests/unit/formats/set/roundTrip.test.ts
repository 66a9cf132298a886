import { strFromU8, unzipSync } from 'fflate';
import { describe, expect, it } from 'vitest';
import { readSetDocument, readSetFile, readSetFiles } from '../../../../shared/formats/set/read.ts';
import { setV1 } from '../../../../shared/formats/set/v1.ts';
import { setDocument, writeSetFile } from '../../../../shared/formats/set/write.ts';
import type { PatternSet } from '../../../../shared/pattern/model.ts';
import { smallSet } from '../../../support/setJson.ts';

const SAVED_AT = new Date(2026, 10, 25, 9, 6, 8);

function model(extra: Record<string, unknown> = {}): PatternSet {
  const read = readSetDocument('small', Object.assign(smallSet(), extra));
  if (!read.ok) throw new Error(read.error.sentence);
  return read.value.set;
}

/** One of everything the format can hold. */
function rich(): PatternSet {
  const base = model();
  const [front, back] = base.pieces;
  const shape = front!.shapes.M!;
  return {
    ...base,
    displayUnits: 'in',
    preset: { tolerance: 'studio', cloth: 'knit' },
    pieces: [
      {
        ...front!,
        nap: 'one-way',
        plan: {
          tracedLine: 'cutting',
          edges: [
            { id: 'top', label: 'top', role: 'opening', allowanceMm: 0, aboutMm: 200 },
            { id: 'side', label: 'side', role: 'seam', allowanceMm: 15, aboutMm: 300 },
          ],
          notches: [{ id: 'n1', edge: 'side', aboutRatio: 0.5, purpose: 'match', mate: { kind: 'unknown' } }],
        },
        shapes: {
          M: {
            ...shape,
            notches: [{ ...shape.notches[0]!, count: 2, mate: { kind: 'notch', piece: 'back-panel', notch: 'n1' } }],
            darts: [
              {
                id: 'd1',
                edge: 'top',
                legs: [
                  [80, 0],
                  [110, 0],
                ],
                apex: [95, 90],
                foldTo: 'end',
              },
            ],
            pleats: [{ id: 'p1', edge: 'top', fromMm: 20, toMm: 40 }],
            grainline: { from: [50, 50], to: [50, 250], heads: 2 },
            marks: [
              { kind: 'hole', id: 'm1', at: [95, 80] },
              { kind: 'buttonhole', id: 'm2', from: [10, 10], to: [25, 10] },
            ],
            accuracy: { scaleSources: [{ id: 'print:1', sigmaRatio: 4e-4 }], pointSigmaMm: 0.1 },
            placement: { shot: 'shot-1', originMm: [12, -7], turnDeg: 0 },
          },
        },
      },
      back!,
    ],
    bodies: [{ name: 'Ines', measuresMm: { waist: 700 } }],
    shots: [
      {
        id: 'shot-1',
        file: 'a.jpg',
        mmPerPixel: 0.3,
        tiltDeg: 12,
        cards: [{ id: 'N01', residualPx: 0.2 }],
        warnings: [{ code: 'print-unchecked', message: 'Measure the rulers.' }],
        picture: { file: 'shot-1.jpg', widthPx: 10, heightPx: 8, mmPerPixel: 0.5, originMm: [-3, -4] },
      },
    ],
    history: [{ what: 'move-notch', params: { byMm: 4, safe: true, to: 'shoulder' }, sentence: 'Moved.' }],
  };
}

describe('the set file', () => {
  const parts = {
    set: rich(),
    pictures: new Map([['shot-1.jpg', new Uint8Array([255, 216, 1])]]),
    drawings: new Map([['front-panel-M.svg', '<svg/>']]),
    savedAt: SAVED_AT,
  };

  it('gives back exactly what was written', () => {
    const read = readSetFile('a.notchwise', writeSetFile(parts));
    expect(read.ok && read.value.set).toEqual(parts.set);
    expect(read.ok && [...read.value.pictures]).toEqual([...parts.pictures]);
    expect(read.ok && read.value.warnings).toEqual([]);
  });

  it('can be read after it was unpacked', () => {
    const files = new Map(Object.entries(unzipSync(writeSetFile(parts))));
    expect([...files.keys()].sort()).toEqual([
      'README.txt',
      'pieces/front-panel-M.svg',
      'set.json',
      'shots/shot-1.jpg',
    ]);
    const read = readSetFiles('a', files);
    expect(read.ok && read.value.set).toEqual(parts.set);
  });

  it('is the same bytes for the same set', () => {
    expect(writeSetFile(parts)).toEqual(writeSetFile(parts));
  });

  it('explains itself in plain text of narrow lines', () => {
    const text = strFromU8(unzipSync(writeSetFile(parts))['README.txt']!);
    expect(text).toContain('every length is in millimetres');
    expect(text).toContain('Front panel (front skirt): M');
    expect(Math.max(...text.split('\n').map((line) => line.length))).toBeLessThanOrEqual(80);
  });

  it('writes documents that pass their own schema and hide nothing behind defaults', () => {
    const document = setDocument(parts.set);
    expect(setV1.parse(document)).toEqual(document);
  });

  it('writes unknown fields again where they stood', () => {
    const doc = smallSet();
    Object.assign(doc.pieces[0]!.shapes.M.ring[1]!, { 'x-thread': 'red' });
    const read = readSetDocument('small', Object.assign(doc, { season: 'autumn' }));
    if (!read.ok) throw new Error(read.error.sentence);
    const again = setDocument(read.value.set);
    expect(again).toMatchObject({ season: 'autumn' });
    expect(again.pieces[0]?.shapes.M?.ring[1]).toMatchObject({ 'x-thread': 'red' });
  });
});
