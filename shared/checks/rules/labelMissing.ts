// A piece of paper says what it is: a name, a size, how often it is cut and from what. One finding for the whole set.
import type { Piece } from '../../pattern/model.ts';
import { defineRule } from '../rule.ts';
import { inSet } from '../subjects.ts';

interface Data {
  readonly lacking: readonly Lack[];
}

interface Lack {
  readonly piece: string;
  readonly what: readonly string[];
}

interface Labelled {
  readonly pieces: readonly Piece[];
}

export const labelMissing = defineRule<Labelled, Data>({
  id: 'label-missing',
  title: 'A piece does not say what it is',
  why: 'In a heap of paper a piece without its name, its size and how often it is cut is a riddle a week later, and a left sleeve is cut twice. Write them on the piece before it leaves the table.',
  source: 'Name, size, cut count, mirrored or on the fold (clothingpatterns101.com)',
  messages: {
    clear: () => 'Every piece has its name, its size and its cut list.',
    missing: (d) => `Not said yet: ${d.lacking.map((l) => `${l.piece}: ${l.what.join(', ')}`).join('; ')}.`,
    noPieces: () => 'No piece has been traced, so none lacks its label.',
  },
  subjects: inSet(({ set }) =>
    set.pieces.length === 0 ? [] : [{ pieces: set.pieces.filter((piece) => Object.keys(piece.shapes).length > 0) }],
  ),
  judge: ({ pieces }) => {
    if (pieces.length === 0)
      return [{ verdict: 'not-applicable', key: 'noPieces', data: { lacking: [] }, subjects: [] }];
    const lacking = pieces.flatMap((piece) => {
      const what = lackOf(piece);
      return what.length === 0 ? [] : [{ id: piece.id, piece: nameOf(piece), what }];
    });
    const subjects = (lacking.length > 0 ? lacking : pieces).map(({ id }) => ({ piece: id }));
    if (lacking.length === 0) return [{ verdict: 'clear', key: 'clear', data: { lacking }, subjects }];
    return [
      {
        verdict: 'fault',
        gravity: 'look',
        key: 'missing',
        data: { lacking: lacking.map(({ piece, what }) => ({ piece, what })) },
        subjects,
        measured: { value: lacking.length, sigma: 0, unit: 'count' },
        limit: { value: 0, unit: 'count', source: 'Name, size, cut count (clothingpatterns101.com)' },
        remedies: [
          {
            grade: 'choice',
            sentence: 'Enter what is missing on the piece: what it is called, and what is cut from it.',
          },
        ],
      },
    ];
  },
});

/** "piece 3" and "Shape" are what a program calls a thing that nobody has named. */
const UNNAMED = /^(piece|shape|path|untitled|unnamed)?[\s_-]*\d*$/i;

function lackOf(piece: Piece): string[] {
  const lack: string[] = [];
  if (UNNAMED.test(piece.name.trim())) lack.push('its name');
  if (piece.cut.every(({ count }) => count < 1)) lack.push('how often it is cut, and from what');
  if (Object.keys(piece.shapes).some((size) => size.trim() === '')) lack.push('its size');
  return lack;
}

function nameOf(piece: Piece): string {
  return piece.name.trim() === '' ? `a piece without a name (${piece.id})` : piece.name;
}
