import { describe, expect, it } from 'vitest';
import { printScaleOf } from '../../../../renderer/photos/printScale.ts';

describe('the rulers of the printed page', () => {
  it('become measured over nominal', () => {
    const scale = printScaleOf('180.18', '239,76 mm', 'mm');
    expect(scale.ok && scale.value?.x).toBeCloseTo(1.001, 9);
    expect(scale.ok && scale.value?.y).toBeCloseTo(0.999, 9);
  });

  it('may be left unmeasured, but only both', () => {
    expect(printScaleOf('', ' ', 'mm')).toEqual({ ok: true, value: null });
    expect(printScaleOf('180', '', 'mm')).toMatchObject({ ok: false, error: { code: 'one-ruler' } });
  });

  it('are refused when they cannot be the rulers of this page', () => {
    for (const [x, y] of [
      ['18', '24'],
      ['long', '240'],
      ['200', '240'],
    ] as const) {
      expect(printScaleOf(x, y, 'mm')).toMatchObject({ ok: false, error: { code: 'ruler-off' } });
    }
  });

  it('are typed and told in the units of the set', () => {
    const scale = printScaleOf('7.0866', '240 mm', 'in');
    expect(scale.ok && scale.value?.x).toBeCloseTo(1, 5);
    expect(scale.ok && scale.value?.y).toBe(1);
    const refused = printScaleOf('7', '8', 'in');
    expect(!refused.ok && refused.error.sentence).toContain('about 7.09 in (X) and 9.45 in (Y)');
  });
});
