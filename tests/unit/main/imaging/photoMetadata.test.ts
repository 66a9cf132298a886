import { describe, expect, it } from 'vitest';
import { metadataFromTags } from '../../../../main/imaging/photoMetadata.ts';

describe('the focal length as 35 mm equivalent', () => {
  it('is taken as the camera states it', () => {
    expect(metadataFromTags({ FocalLengthIn35mmFormat: 26 }, 4000, 3000)).toEqual({ focal35Mm: 26 });
  });

  it('is derived from the resolution of the focal plane when it is not stated', () => {
    // A frame of 36 x 24 mm at 6000 x 4000 pixels has 6000 / 36 pixels a millimetre: 50 mm are 50 mm.
    const tags = {
      FocalLength: 50,
      FocalPlaneXResolution: (6000 / 36) * 10,
      FocalPlaneYResolution: (4000 / 24) * 10,
      FocalPlaneResolutionUnit: 3,
      ExifImageWidth: 6000,
      ExifImageHeight: 4000,
    };
    expect(metadataFromTags(tags, 6000, 4000).focal35Mm).toBeCloseTo(50, 9);
    // Half the frame each way doubles it.
    const half = { ...tags, FocalPlaneXResolution: (6000 / 18) * 10, FocalPlaneYResolution: (4000 / 12) * 10 };
    expect(metadataFromTags(half, 6000, 4000).focal35Mm).toBeCloseTo(100, 9);
  });

  it('is left out when the camera writes 0 for unknown, or nothing', () => {
    expect(metadataFromTags({ FocalLengthIn35mmFormat: 0 }, 4000, 3000)).toEqual({});
    expect(metadataFromTags({ FocalLength: 4.2 }, 4000, 3000)).toEqual({});
  });

  it('is left out when the picture was cropped after it was taken, but not when it was only turned or made smaller', () => {
    const tags = { FocalLengthIn35mmFormat: 26, ExifImageWidth: 4000, ExifImageHeight: 3000 };
    expect(metadataFromTags(tags, 3000, 3000)).toEqual({});
    expect(metadataFromTags(tags, 3000, 4000)).toEqual({ focal35Mm: 26 });
    expect(metadataFromTags(tags, 2000, 1500)).toEqual({ focal35Mm: 26 });
  });

  it('comes with the names of camera and lens, and the digital zoom', () => {
    const tags = { Make: 'Kestrel Optical\0', Model: ' Pocket 3 ', LensModel: 'Wide', DigitalZoomRatio: 1.5 };
    expect(metadataFromTags(tags, 4, 3)).toEqual({
      make: 'Kestrel Optical',
      model: 'Pocket 3',
      lens: 'Wide',
      digitalZoomRatio: 1.5,
    });
  });
});
