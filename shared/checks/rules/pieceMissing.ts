// The set against its cutting list: every piece that is expected must have been traced.
import type { ExpectedPiece, PatternSet, Piece } from '../../pattern/model.ts';
import { defineRule } from '../rule.ts';
import { inSet } from '../subjects.ts';

interface Data {
  readonly piece: string;
  readonly kind: string;
}

interface Expectation {
  readonly expected: Pick<ExpectedPiece, 'name' | 'kind'>;
  readonly found: Piece | null;
}

export const pieceMissing = defineRule<Expectation, Data>({
  id: 'piece-missing',
  title: 'A piece of the cutting list is missing',
  why: 'A facing or a pocket that was never traced is noticed when the cloth is already cut and the rest is too small for it. The cutting list says what must lie on the table before the scissors do.',
  source: 'The cutting list of the set',
  messages: {
    clear: (d) => `${d.piece} is there.`,
    missing: (d) => `${d.piece} is on the cutting list but has not been traced.`,
  },
  subjects: inSet(({ set }) => expectations(set)),
  judge: ({ expected, found }) => {
    const data = { piece: expected.name, kind: expected.kind };
    if (found !== null) return [{ verdict: 'clear', key: 'clear', data, subjects: [{ piece: found.id }] }];
    return [
      {
        verdict: 'fault',
        gravity: 'stop',
        key: 'missing',
        data,
        subjects: [{ piece: expected.name }],
        remedies: [{ grade: 'choice', sentence: `Trace ${expected.name}, or strike it from the cutting list.` }],
      },
    ];
  },
});

/** Expected pieces with what was traced for each: by name first, then by kind among what is left. */
function expectations(set: PatternSet): Expectation[] {
  const traced = set.pieces.filter((piece) => Object.keys(piece.shapes).length > 0);
  const untraced = set.pieces.filter((piece) => Object.keys(piece.shapes).length === 0);
  const left = new Set(traced);
  const take = (piece: Piece | undefined): Piece | null => {
    if (piece === undefined) return null;
    left.delete(piece);
    return piece;
  };
  const byName = set.expectedPieces.map((expected) => ({
    expected,
    found: take([...left].find((piece) => sameName(piece.name, expected.name))),
  }));
  const matched = byName.map(({ expected, found }): Expectation => {
    const sameKind = [...left].find((piece) => piece.kind === expected.kind && expected.kind !== 'other');
    return { expected, found: found ?? take(sameKind) };
  });
  const alsoPlanned = untraced
    .filter((piece) => !set.expectedPieces.some((expected) => sameName(expected.name, piece.name)))
    .map((piece): Expectation => ({ expected: piece, found: null }));
  return [...matched, ...alsoPlanned];
}

function sameName(a: string, b: string): boolean {
  const plain = (name: string) =>
    name
      .toLowerCase()
      .replaceAll(/[^\p{L}\p{N}]+/gu, ' ')
      .trim();
  return plain(a) === plain(b);
}
