import { describe, expect, it } from 'vitest';
import { isSettled, joinProfiles, type PhoneProfile } from '../../../../shared/vision/plane/phoneProfile.ts';

function lesson(mark: string, mean: PhoneProfile['mean'] = [0.01, 0.05, -0.1]): PhoneProfile {
  return {
    key: 'Sparrow|One||26|1',
    make: 'Sparrow',
    model: 'One',
    lens: '',
    focal35Mm: 26,
    mean,
    covariance: [
      [1e-4, 0, 0],
      [0, 4e-4, 0],
      [0, 0, 9e-4],
    ],
    photos: 1,
    taughtBy: [mark],
    conflicts: 0,
  };
}

describe('what photos teach about a phone', () => {
  it('gets surer with every photo, at the mean of what they say', () => {
    const joined = joinProfiles(lesson('a', [0.01, 0.05, -0.1]), lesson('b', [0.02, 0.06, -0.12]));
    expect(joined.photos).toBe(2);
    expect(joined.mean[1]).toBeCloseTo(0.055, 6);
    expect(joined.covariance[1]![1]!).toBeLessThan(lesson('a').covariance[1]![1]!);
  });

  it('is not taught twice by the same photo', () => {
    const known = joinProfiles(lesson('a'), lesson('b'));
    expect(joinProfiles(known, lesson('a'))).toBe(known);
  });

  it('begins anew when a photo contradicts it, and is not used unasked until enough photos agree', () => {
    const known = joinProfiles(lesson('a'), lesson('b'));
    let profile = joinProfiles(known, lesson('c', [0.01, 0.35, -0.1]));
    expect(profile).toMatchObject({ photos: 1, conflicts: 1 });
    expect(isSettled(known)).toBe(true);
    expect(isSettled(profile)).toBe(false);
    for (const mark of ['d', 'e']) profile = joinProfiles(profile, lesson(mark, [0.01, 0.35, -0.1]));
    expect(isSettled(profile)).toBe(true);
  });
});
