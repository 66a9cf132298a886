import { strToU8, zipSync } from 'fflate';
import { describe, expect, it } from 'vitest';
import { readSetDocument, readSetFile } from '../../../../shared/formats/set/read.ts';
import { type SmallSet, smallSet } from '../../../support/setJson.ts';

/** The sentence with which a spoilt set is refused; throws when it is not. */
function refusal(spoil: (set: SmallSet & Record<string, unknown>) => void): string {
  const set = smallSet();
  spoil(set);
  const read = readSetDocument('dress.json', set);
  if (read.ok) throw new Error('the set was accepted');
  return read.error.sentence;
}

describe('a set written by hand', () => {
  const read = readSetDocument('dress.json', smallSet());
  if (!read.ok) throw new Error(read.error.sentence);
  const { set, warnings } = read.value;

  it('is read without a word when it only says what it must', () => {
    expect(warnings).toEqual([]);
  });

  it('gets ids from names and places in the list', () => {
    expect(set.pieces.map((piece) => piece.id)).toEqual(['front-panel', 'back-panel']);
    expect(set.seams[0]?.id).toBe('s1');
    expect(set.pieces[0]?.shapes.M?.notches[0]?.id).toBe('n1');
  });

  it('takes its sizes from its shapes, and the first as base size', () => {
    expect(set.sizes).toEqual(['M']);
    expect(set.baseSize).toBe('M');
  });

  it('may write a straight edge as two points', () => {
    expect(set.pieces[0]?.shapes.M?.ring[1]?.curve).toEqual(
      [
        [200, 0],
        [200, 100],
        [200, 200],
        [200, 300],
      ].map(([x, y]) => [x, expect.closeTo(y!, 9)]),
    );
  });

  it('is exact where it states no uncertainty, and its seams are taken as confirmed', () => {
    expect(set.pieces[0]?.shapes.M?.accuracy).toEqual({ scaleSources: [], pointSigmaMm: 0 });
    expect(set.seams[0]?.status).toBe('confirmed');
  });

  it('marks an allowance as assumed only where a cutting line leaves it out', () => {
    const doc = smallSet();
    doc.pieces[0]!.shapes.M.tracedLine = 'cutting';
    const cutting = readSetDocument('dress.json', doc);
    expect(cutting.ok && cutting.value.set.pieces[0]?.shapes.M?.ring[0]?.allowanceAssumed).toBe(true);
    expect(set.pieces[0]?.shapes.M?.ring[0]?.allowanceAssumed).toBe(false);
  });
});

describe('a broken set is refused in one sentence that names the place', () => {
  const cases: readonly [string, (set: SmallSet & Record<string, unknown>) => void, RegExp][] = [
    [
      'a missing name',
      (set) => Reflect.deleteProperty(set, 'name'),
      /^dress\.json cannot be read: name should be text, but is missing\.$/,
    ],
    [
      'a word where a number belongs',
      (set) => Object.assign(set.pieces[0]!.shapes.M.notches[0]!, { atMm: 'middle' }),
      /pieces\[0\]\.shapes\.M\.notches\[0\]\.atMm should be a number, but is "middle"\.$/,
    ],
    [
      'an unknown kind of piece',
      (set) => Object.assign(set.pieces[1]!, { kind: 'wing' }),
      /pieces\[1\]\.kind should be one of "front bodice", .* but is "wing"/,
    ],
    [
      'a curve of one point',
      (set) => set.pieces[0]!.shapes.M.ring[0]!.curve.pop(),
      /ring\[0\]\.curve should be at least 2 entries long, but is a list of 1/,
    ],
    [
      'a curve of five points',
      (set) => set.pieces[0]!.shapes.M.ring[0]!.curve.push([1, 1], [2, 2], [3, 3]),
      /edge "top" has 5 points; a cubic path has 4, 7, 10/,
    ],
    [
      'a ring that does not close',
      (set) => Object.assign(set.pieces[0]!.shapes.M.ring[1]!.curve[1]!, [200, 301]),
      /edge "hem" starts 1\.00 mm from where edge "side" ends/,
    ],
    [
      'a notch on no edge',
      (set) => Object.assign(set.pieces[0]!.shapes.M.notches[0]!, { edge: 'armhole' }),
      /notch "n1" names the edge "armhole", which is missing; its edges are "top", "side", "hem", "fold"/,
    ],
    [
      'a seam to a missing piece',
      (set) => Object.assign(set.seams[0]!.sides[0]![0]!, { piece: 'sleeve' }),
      /Seam "s1" names the piece "sleeve", which is missing; the set has "front-panel", "back-panel"/,
    ],
    [
      'a seam to a missing edge',
      (set) => Object.assign(set.seams[0]!.sides[1]![0]!, { edge: 'cap' }),
      /Seam "s1" names the edge "cap" of piece "back-panel", which is missing/,
    ],
    [
      'two pieces with one id',
      (set) => set.pieces.splice(0, 2, ...set.pieces.map((piece) => ({ ...piece, id: 'panel' }))),
      /Two pieces have the id "panel"/,
    ],
    [
      'a base size that is none',
      (set) => Object.assign(set, { baseSize: 'XL' }),
      /base size "XL" is not among the set's sizes/,
    ],
    [
      'a mate that does not exist',
      (set) =>
        Object.assign(set.pieces[0]!.shapes.M.notches[0]!, {
          mate: { kind: 'notch', piece: 'back-panel', notch: 'n9' },
        }),
      /has the mate "n9", which piece "back-panel" does not have/,
    ],
    [
      'a slip in a field name',
      (set) => Object.assign(set.pieces[0]!.shapes.M.ring[1]!, { allowance: 15 }),
      /has the field "allowance", which is not known; did you mean "allowanceMm"\?/,
    ],
  ];
  for (const [what, spoil, sentence] of cases) {
    it(what, () => expect(refusal(spoil)).toMatch(sentence));
  }
  it('and never in more than one line', () => {
    for (const [, spoil] of cases) expect(refusal(spoil)).not.toContain('\n');
  });
});

describe('other versions and other files', () => {
  const from = (bytes: Uint8Array | string) => {
    const read = readSetFile('thing', typeof bytes === 'string' ? strToU8(bytes) : bytes);
    return read.ok ? 'accepted' : `${read.error.code}: ${read.error.sentence}`;
  };

  it('a newer version says which it got and which it wanted', () => {
    expect(from('{"format":"notchwise-set/7"}')).toBe(
      'newer-version: thing is written in set format version 7, and this program reads version 1; update the program.',
    );
  });
  it('JSON of another kind is told what a set says', () => {
    expect(from('{"a":1}')).toContain('names no format; a set says "format": "notchwise-set/1"');
    expect(from('[1]')).toContain('not-a-set');
  });
  it('no JSON, nothing at all, a zip of something else, a zip cut short', () => {
    expect(from('hello')).toContain('not-json');
    expect(from('{"format":\n "notchwise-set/1",\n oops\n}')).not.toContain('\n');
    expect(from('')).toContain('empty-file');
    const zip = zipSync({ 'letter.txt': strToU8('dear') });
    expect(from(zip)).toContain('holds no set.json');
    expect(from(zip.subarray(0, zip.length - 30))).toContain('broken-zip');
  });
  it('a zip that says it unpacks to gigabytes is not unpacked', () => {
    const bomb = zipSync({ 'set.json': new Uint8Array(1000) }, { level: 9 });
    const view = new DataView(bomb.buffer);
    for (let at = 0; at + 4 <= bomb.length; at++) {
      // central directory header (APPNOTE 4.3.12): uncompressed size at 24
      if (view.getUint32(at, true) === 0x02014b50) view.setUint32(at + 24, 3_000_000_000, true);
    }
    expect(from(bomb)).toContain('too-large');
  });
  it('a byte order mark in front of JSON is no matter', () => {
    expect(from(`\uFEFF${JSON.stringify(smallSet())}`)).toBe('accepted');
  });
});

describe('fields that are not known', () => {
  it('are kept in the set with one warning, and quietly when they are marked as somebody’s own', () => {
    const doc = Object.assign(smallSet(), { season: 'autumn', 'x-shelf': 3, $schema: './set.json' });
    Object.assign(doc.pieces[0]!.shapes.M.ring[1]!, { ribbon: [1, 2] });
    const read = readSetDocument('dress.json', doc);
    if (!read.ok) throw new Error(read.error.sentence);
    expect(read.value.warnings.map((warning) => warning.message)).toEqual([
      'dress.json has fields that are not used here and are kept as they are: ribbon, season.',
    ]);
    expect(read.value.set).toMatchObject({ season: 'autumn', 'x-shelf': 3 });
  });
});
