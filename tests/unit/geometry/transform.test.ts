import { describe, expect, it } from 'vitest';
import { apply, compose, identity, invert, rigid } from '../../../shared/geometry/transform.ts';
import { angleDeg, leftNormal, turnDeg, unit } from '../../../shared/geometry/vector.ts';

describe('transforms and directions', () => {
  it('turn clockwise on the screen by a positive angle', () => {
    const [x, y] = apply(rigid(90, [10, 20]), [1, 0]);
    expect(x).toBeCloseTo(10, 12);
    expect(y).toBeCloseTo(21, 12);
  });

  it('chain so that the right-hand map is done first', () => {
    const shift = rigid(0, [5, 0]);
    const turn = rigid(90, [0, 0]);
    expect(apply(compose(turn, shift), [0, 0])[1]).toBeCloseTo(5, 12);
  });

  it('undo one another', () => {
    const map = compose(rigid(33, [4, -7]), [2, 0.3, -0.1, -1.5, 0, 0]);
    compose(invert(map), map).forEach((value, i) => {
      expect(value).toBeCloseTo(identity[i]!, 12);
    });
  });

  it('refuse to undo a map that flattens the plane', () => {
    expect(() => invert([1, 2, 2, 4, 0, 0])).toThrow('no inverse');
  });

  it('measure directions with y down', () => {
    expect(angleDeg([0, 1])).toBe(90);
    expect(turnDeg([1, 0], [0, 1])).toBe(90);
    expect(turnDeg([0, 1], [1, 0])).toBe(-90);
    expect(leftNormal([1, 0])).toEqual([0, -1]);
    expect(unit([0, 0])).toEqual([0, 0]);
  });
});
