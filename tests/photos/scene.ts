// What lies on the simulated table and how it is lit and photographed: plain data, so that a scene can be printed,
// compared and rendered again. Local frames of items are millimetres, y down.
import type { Point } from '../../shared/base/points.ts';
import type { CameraSpec } from './camera.ts';

/** Linear-light reflectance 0-1 of red, green, blue. */
export type Reflectance = readonly [number, number, number];

export type Ink =
  | {
      readonly kind: 'stroke';
      readonly line: readonly Point[];
      readonly closed: boolean;
      readonly widthMm: number;
      readonly colour: string;
      /** On, off, ... millimetres; empty = solid. */
      readonly dashMm: readonly number[];
    }
  | { readonly kind: 'fill'; readonly rings: readonly (readonly Point[])[]; readonly colour: string };

export interface PaperLook {
  readonly colour: string;
  readonly pattern: 'plain' | 'fibres' | 'dots' | 'grid';
  /** 1 = opaque; tracing paper lets the table through. */
  readonly opacity: number;
  /** Strength of the mirror-like part, 0 = matt. */
  readonly gloss: number;
}

/** A sheet bent over a cylinder: the height rises as the square of the distance from the cylinder's ridge or valley. */
export interface Curl {
  readonly sagittaMm: number;
  /** Direction of the cylinder's axis in the item's frame. */
  readonly axisDeg: number;
  readonly form: 'edges-up' | 'middle-up';
}

export interface Placement {
  readonly xMm: number;
  readonly yMm: number;
  /** Clockwise as seen on the screen. */
  readonly turnDeg: number;
}

/** A flat thing cut from paper or card. Later items lie on top of earlier ones. */
export interface PaperItem {
  readonly id: string;
  readonly placement: Placement;
  /** Closed ring of points, dense enough that chords do not matter. */
  readonly outline: readonly Point[];
  /** Cut away: snips, holes, inward triangles. */
  readonly cutAway: readonly (readonly Point[])[];
  readonly look: PaperLook;
  readonly thicknessMm: number;
  /** Height of its underside over the table (what it lies on). */
  readonly baseMm: number;
  readonly curl: Curl | null;
  readonly ink: readonly Ink[];
  /** Printed size divided by nominal size along the item's x and y: outline and ink are scaled by it. */
  readonly printScale: Point;
}

export type Background =
  | { readonly kind: 'plain'; readonly colour: string }
  | { readonly kind: 'wood'; readonly turnDeg: number }
  | {
      readonly kind: 'mat';
      readonly colour: string;
      readonly line: string;
      readonly pitchMm: number;
      readonly turnDeg: number;
    }
  | {
      readonly kind: 'checked';
      readonly colour: string;
      readonly stripe: string;
      readonly pitchMm: number;
      readonly turnDeg: number;
    }
  | { readonly kind: 'cloth'; readonly colour: string };

/** A shadow lying on the table. */
export interface Shadow {
  readonly polygon: readonly Point[];
  /** Width of the soft rim (1 sigma); small = hard. */
  readonly penumbraMm: number;
  /** Share of the key light that is taken away. */
  readonly depth: number;
}

export interface Light {
  /** Light from the lamp or window, and from everywhere, by colour. */
  readonly key: Reflectance;
  readonly ambient: Reflectance;
  /** Relative change of the key light per metre along x and y. */
  readonly gradientPerM: Point;
  /** Direction on the table toward the lamp and its height above the horizon. */
  readonly azimuthDeg: number;
  readonly elevationDeg: number;
  readonly shadows: readonly Shadow[];
  /** Mirror image of the lamp on glossy things. */
  readonly glare: {
    readonly at: Point;
    readonly radiusMm: number;
    readonly strength: number;
    /** Gloss of the table itself; absent = matt. */
    readonly tableGloss?: number;
  } | null;
}

export interface Sensor {
  /** Gain on linear light before clipping. */
  readonly exposure: number;
  /** Relative loss in the corners, 0-1. */
  readonly vignetting: number;
  /** Gaussian blur of lens and pixel, 1 sigma in pixels. */
  readonly blurPx: number;
  /** Electrons of a full pixel: shot noise is its root. */
  readonly fullWell: number;
  /** Read noise, electrons. */
  readonly readNoise: number;
  /** Colour filter mosaic and bilinear reconstruction. */
  readonly mosaic: 'bayer' | 'none';
  /** Unsharp mask as phones apply it: amount on a 1 px Gaussian. */
  readonly sharpen: number;
  readonly jpegQuality: number;
}

export interface Scene {
  readonly name: string;
  readonly seed: number;
  readonly camera: CameraSpec;
  readonly background: Background;
  readonly items: readonly PaperItem[];
  readonly light: Light;
  readonly sensor: Sensor;
  /** Samples a pixel in each direction. */
  readonly samples: 1 | 2 | 3 | 4;
}
