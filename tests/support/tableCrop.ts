// A small part of a simulated photo with a plane that is known exactly: no reference cards are read and nothing is solved, so
// that what a test sees is the outline's own error. The camera stands where a phone would, its sensor is only smaller.
import { type Point, tableMm } from '../../shared/base/points.ts';
import { pieceFromOutline } from '../../shared/usecases/pieceFromOutline.ts';
import type { RgbImage } from '../../shared/vision/image.ts';
import type { TablePicture } from '../../shared/vision/segment/tablePicture.ts';
import { RECTIFY_DEFAULTS } from '../../shared/vision/stages/rectify.ts';
import { refineOutline } from '../../shared/vision/stages/refineOutline.ts';
import { segmentPaper } from '../../shared/vision/stages/segmentPaper.ts';
import type { TracedPiece } from '../../shared/vision/traced.ts';
import { DIAGONAL_35_MM } from '../photos/camera.ts';
import { cutPiece, type PieceSpec, type PieceTruth } from '../photos/pieces.ts';
import { type RenderedPhoto, renderPhoto } from '../photos/renderPhoto.ts';
import type { Background, Light, PaperItem, PaperLook, Scene, Sensor } from '../photos/scene.ts';
import { PAPERS } from '../photos/scenes.ts';

const CROP = { widthMm: 330, heightMm: 260, mmPerPx: 0.3, distanceMm: 1000 } as const;

/** Evenly lit, in focus, a little noise. */
const PLAIN_SENSOR: Sensor = {
  exposure: 0.85,
  vignetting: 0,
  blurPx: 0.8,
  fullWell: 5000,
  readNoise: 6,
  mosaic: 'bayer',
  sharpen: 0.3,
  jpegQuality: 90,
};

const LAMP: Light = {
  key: [0.78, 0.75, 0.72],
  ambient: [0.2, 0.21, 0.23],
  gradientPerM: [0.2, -0.1],
  azimuthDeg: 215,
  elevationDeg: 50,
  shadows: [],
  glare: null,
};

export interface CropScene {
  readonly background: Background;
  readonly items: readonly PaperItem[];
  readonly light?: Light;
  readonly sensor?: Sensor;
  readonly seed?: number;
  /** A long focal length from a metre above the middle of the crop unless said otherwise. */
  readonly tiltDeg?: number;
  readonly mmPerPx?: number;
}

/** A white card in the corner of the crop, to compare whites with. */
const CARD_RING: readonly Point[] = [
  [6, 206],
  [54, 206],
  [54, 254],
  [6, 254],
];

export interface CropPhoto {
  readonly photo: RenderedPhoto;
  readonly pieces: readonly TracedPiece[];
}

/** The scene photographed and its pieces traced, from the segmentation to the edges. */
export function traceCrop(crop: CropScene): CropPhoto {
  const photo = renderPhoto(sceneOf(crop));
  const picture = rectified(photo);
  const found = segmentPaper(picture, [CARD_RING]);
  const thicknessMm = crop.items[0]!.thicknessMm;
  const pieces = found.value.regions.map((region, i) => {
    const dense = refineOutline(photo.rgb, region.coarse, (at) => photo.photoFromTable(at, thicknessMm));
    return pieceFromOutline(
      { line: 'paper-edge', ...dense },
      { id: `p${i + 1}`, photos: ['crop'], scaleSigmaRatio: 0, planeSigmaMm: () => 0, marks: () => [] },
    );
  });
  return { photo, pieces };
}

function sceneOf({ background, items, light, sensor, seed, tiltDeg, mmPerPx = CROP.mmPerPx }: CropScene): Scene {
  const widthPx = Math.round(CROP.widthMm / mmPerPx);
  const heightPx = Math.round(CROP.heightMm / mmPerPx);
  return {
    name: 'crop',
    seed: seed ?? 1,
    camera: {
      widthPx,
      heightPx,
      focal35Mm: (CROP.distanceMm / mmPerPx / Math.hypot(widthPx, heightPx)) * DIAGONAL_35_MM,
      lens: { model: 'polynomial', k1: 0, k2: 0 },
      principalOffsetPx: [0, 0],
      targetMm: [CROP.widthMm / 2, CROP.heightMm / 2],
      distanceMm: CROP.distanceMm,
      tiltDeg: tiltDeg ?? 6,
      azimuthDeg: 20,
      rollDeg: -20,
    },
    background,
    items: [...items, paperItem('card', CARD_RING, PAPERS.white)],
    light: light ?? LAMP,
    sensor: sensor ?? PLAIN_SENSOR,
    samples: 2,
  };
}

/** The table seen from straight above; nothing is measured in it, so the nearest pixels will do. */
function rectified(photo: RenderedPhoto): TablePicture {
  const { mmPerPixel } = RECTIFY_DEFAULTS;
  const widthPx = Math.floor(CROP.widthMm / mmPerPixel);
  const heightPx = Math.floor(CROP.heightMm / mmPerPixel);
  const data = new Uint8Array(3 * widthPx * heightPx);
  const seen = new Uint8Array(widthPx * heightPx);
  for (let y = 0; y < heightPx; y++)
    for (let x = 0; x < widthPx; x++) {
      const at = photo.photoFromTable(tableMm(x * mmPerPixel, y * mmPerPixel));
      const pixel = y * widthPx + x;
      if (at[0] < 0 || at[1] < 0 || at[0] > photo.rgb.widthPx - 1 || at[1] > photo.rgb.heightPx - 1) continue;
      seen[pixel] = 1;
      data.set(bilinear(photo.rgb, at), 3 * pixel);
    }
  return { rgb: { widthPx, heightPx, data }, mmPerPx: mmPerPixel, originMm: [0, 0], seen };
}

function bilinear({ widthPx, heightPx, data }: RgbImage, [x, y]: Point): number[] {
  const x0 = Math.min(Math.floor(x), widthPx - 2);
  const y0 = Math.min(Math.floor(y), heightPx - 2);
  const [fx, fy] = [x - x0, y - y0];
  return [0, 1, 2].map((c) => {
    const at = 3 * (y0 * widthPx + x0) + c;
    const below = at + 3 * widthPx;
    const top = data[at]! * (1 - fx) + data[at + 3]! * fx;
    return Math.round(top * (1 - fy) + (data[below]! * (1 - fx) + data[below + 3]! * fx) * fy);
  });
}

/** A flat thing by its ring on the table. */
function paperItem(id: string, ring: readonly Point[], look: PaperLook, thicknessMm = 0.1): PaperItem {
  return {
    id,
    placement: { xMm: 0, yMm: 0, turnDeg: 0 },
    outline: ring,
    cutAway: [],
    look,
    thicknessMm,
    baseMm: 0,
    curl: null,
    ink: [],
    printScale: [1, 1],
  };
}

/** A solid body: slices one over the other, the lower ones a little darker because the light does not reach them. */
export function solidItem(
  id: string,
  ring: readonly Point[],
  colour: string,
  heightMm: number,
  ink: PaperItem['ink'] = [],
): PaperItem[] {
  const look = (darker: number): PaperLook => ({
    colour: darkened(colour, darker),
    pattern: 'plain',
    opacity: 1,
    gloss: 0.1,
  });
  const slices = Math.max(2, Math.ceil(heightMm / 2));
  return Array.from({ length: slices }, (_, i) => ({
    ...paperItem(`${id}-${i}`, ring, look(i === slices - 1 ? 1 : 0.75), (heightMm * (i + 1)) / slices),
    ink: i === slices - 1 ? ink : [],
  }));
}

function darkened(hex: string, factor: number): string {
  const channels = [1, 3, 5].map((at) => Math.round(Number.parseInt(hex.slice(at, at + 2), 16) * factor));
  return `#${channels.map((value) => value.toString(16).padStart(2, '0')).join('')}`;
}

/** A piece cut along cubic edges given on the table, without marks. */
export function curvedPiece(
  id: string,
  edges: PieceSpec['edges'],
  look: PaperLook,
): { item: PaperItem; truth: PieceTruth } {
  const spec: PieceSpec = {
    id,
    edges,
    notches: [],
    grainline: null,
    fold: null,
    darts: [],
    holes: [],
    lines: [],
    texts: [],
  };
  const style = { look, thicknessMm: 0.1, curl: null, inkColour: '#30343c', inkWidthMm: 0.6, seed: 1 };
  return cutPiece(spec, { xMm: 0, yMm: 0, turnDeg: 0 }, style);
}
