// Lengths as reports and panels print them. The inch is 25.4 mm by definition; a tape shows sixteenths of it.
import { expect, it } from 'vitest';
import { lengthTextIn, tenths } from '../../../shared/base/lengthText.ts';

it('prints a tenth of a millimetre, a hundredth of a centimetre, and inches as a tape shows them', () => {
  expect(lengthTextIn('mm').words(12.74)).toBe('12.7 mm');
  expect(lengthTextIn('cm').words(12.74)).toBe('1.27 cm');
  expect(lengthTextIn('in').words(12.74)).toBe('1/2 in');
  expect(lengthTextIn('in').words(41.3)).toBe('1 5/8 in');
});

it('signs what is more or less, and nothing that rounds to nothing', () => {
  expect(lengthTextIn('mm').signed(3.2)).toBe('+3.2');
  expect(lengthTextIn('mm').signed(-0.96)).toBe('\u22121.0');
  expect(lengthTextIn('mm').signed(-0.04)).toBe('0.0');
  expect(lengthTextIn('cm').signed(-0.04)).toBe('0.00');
  expect(lengthTextIn('in').signed(0.2)).toBe('0');
  expect(lengthTextIn('in').signed(-25.4)).toBe('\u22121');
});

it('gives an uncertainty in decimals, in inches too, where a sixteenth is too coarse', () => {
  expect(lengthTextIn('in').signedWords(25.4, 0.5)).toBe('+1 \u00b1 0.02 in');
  expect(lengthTextIn('mm').signedWords(28, 0.46)).toBe('+28.0 \u00b1 0.5 mm');
});

it('tells what is only roughly known in whole millimetres, tenths of a centimetre and eighths of an inch', () => {
  const both = (unit: 'mm' | 'cm' | 'in') => [48.04, 111.96].map(lengthTextIn(unit).coarse);
  expect(both('mm')).toEqual(['48', '112']);
  expect(both('cm')).toEqual(['4.8', '11.2']);
  expect(both('in')).toEqual(['1 7/8', '4 3/8']);
});

it('writes a real minus and never minus nothing', () => {
  expect(tenths(-3.26)).toBe('\u22123.3');
  expect(tenths(-0.04)).toBe('0.0');
});
