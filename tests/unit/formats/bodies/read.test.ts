// Tables of measurements as people supply them.
import { describe, expect, it } from 'vitest';
import { readBodyTable } from '../../../../shared/formats/bodies/read.ts';

function bodies(text: string, name = 'sizes.csv') {
  const read = readBodyTable(name, text);
  if (!read.ok) throw new Error(read.error.sentence);
  return read.value;
}

function refusal(text: string, name = 'sizes.csv'): string {
  const read = readBodyTable(name, text);
  if (read.ok) throw new Error(`it was read: ${JSON.stringify(read.value)}`);
  return read.error.sentence;
}

const SM = [
  { name: 'S', measuresMm: { bust: 880, waist: 720, hip: 950 } },
  { name: 'M', measuresMm: { bust: 920, waist: 760, hip: 990 } },
];

describe('a table of body measurements', () => {
  it('has a size in each row, or in each column', () => {
    expect(bodies('size (cm),bust,waist,hip\nS,88,72,95\nM,92,76,99\n')).toEqual(SM);
    expect(bodies('measure (cm);S;M\nChest;88;92\nWaist girth;72;76\nhips;95;99\n')).toEqual(SM);
  });

  it('takes tabs, decimal commas, quotes, a byte order mark and lines of Windows', () => {
    expect(bodies('\uFEFF"size (cm)"\t"bust"\t"hips"\r\n"M"\t"92,5"\t"99"\r\n')).toEqual([
      { name: 'M', measuresMm: { bust: 925, hip: 990 } },
    ]);
  });

  it('takes inches with fractions, and a unit for one measure alone', () => {
    const [body] = bodies('size (in),bust,back length (cm)\n10,32 1/2,40\n');
    expect(body!.measuresMm.bust).toBeCloseTo(825.5, 9);
    expect(body!.measuresMm['back length']).toBeCloseTo(400, 9);
  });

  it('is millimetres without a unit, and leaves empty cells out', () => {
    expect(bodies('size,bust,waist\nM,920,\n')).toEqual([{ name: 'M', measuresMm: { bust: 920 } }]);
  });

  it('may be JSON with its unit', () => {
    const text = JSON.stringify({ unit: 'cm', bodies: { Kim: { chest: 96, 'upper arm': 30.5 } } });
    expect(bodies(text, 'kim.json')).toEqual([{ name: 'Kim', measuresMm: { bust: 960, biceps: 305 } }]);
  });

  it('never guesses a unit: a bust of 88 mm is refused and the unit asked for', () => {
    expect(refusal('size,bust\nM,88\n')).toBe(
      'sizes.csv: "bust" of "M" would be 88 mm; say the unit, such as "size (cm)" in a table or 92cm for one measure.',
    );
    expect(refusal('size (m),bust\nM,0.88\n')).toBe('sizes.csv: the unit in "size (m)" is none of mm, cm, in.');
    expect(refusal('size,bust (ft)\nM,3\n')).toContain('"bust (ft)"');
    expect(refusal('size (in),bust\nM,880\n')).toContain('22352 mm');
  });

  it.each([
    ['size,colour\nM,red\n', /names a measure such as bust/],
    ['size (cm),bust\nM,wide\n', /"wide" for bust of M is no number; write 88\.5 or 34 1\/2/],
    ['size (cm),bust\n', /holds no measurements/],
    ['{ "unit": "cm"', /is no JSON/],
    ['{ "unit": "ell", "bodies": {} }', /unit should be one of "mm", "cm", "in", but is "ell"/],
    ['{ "unit": "cm", "bodies": { "M": { "bust": "wide" } } }', /bodies\.M\.bust should be a number/],
  ])('says in a sentence what is wrong with %j', (text, sentence) => {
    expect(refusal(text)).toMatch(sentence);
  });
});
