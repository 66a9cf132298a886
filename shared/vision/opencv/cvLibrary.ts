// The small part of the opencv-wasm object that we use, typed by hand: the package's own types describe another build.
// Nothing outside this folder sees these types.

export interface CvMat {
  readonly rows: number;
  readonly cols: number;
  readonly data: Uint8Array;
  readonly data32S: Int32Array;
  readonly data32F: Float32Array;
  readonly data64F: Float64Array;
  delete(): void;
}

export interface CvMatVector {
  size(): number;
  get(index: number): CvMat;
  push_back(mat: CvMat): void;
  delete(): void;
}

type CvSize = object;
type CvPoint = object;
type CvScalar = readonly number[];

export interface CvLibrary {
  readonly Mat: new (rows?: number, cols?: number, type?: number, fill?: CvScalar) => CvMat;
  readonly MatVector: new () => CvMatVector;
  readonly Size: new (width: number, height: number) => CvSize;
  readonly Point: new (x: number, y: number) => CvPoint;
  readonly Scalar: new (...values: number[]) => CvScalar;
  exceptionFromPtr(pointer: number): { readonly msg: string };

  readonly CV_8UC1: number;
  readonly CV_8UC3: number;
  readonly CV_32FC1: number;
  readonly CV_32F: number;
  readonly CV_32SC1: number;
  readonly CV_32SC2: number;
  readonly CV_32S: number;
  readonly CV_64FC1: number;
  readonly ADAPTIVE_THRESH_MEAN_C: number;
  readonly THRESH_BINARY: number;
  readonly THRESH_BINARY_INV: number;
  readonly THRESH_OTSU: number;
  readonly INTER_AREA: number;
  readonly INTER_LINEAR: number;
  readonly BORDER_CONSTANT: number;
  readonly BORDER_REFLECT_101: number;
  readonly WARP_INVERSE_MAP: number;
  readonly COLOR_RGB2Lab: number;
  readonly COLOR_RGB2GRAY: number;
  readonly RETR_LIST: number;
  readonly RETR_EXTERNAL: number;
  readonly RETR_TREE: number;
  readonly CHAIN_APPROX_NONE: number;
  readonly CHAIN_APPROX_SIMPLE: number;
  readonly MORPH_RECT: number;
  readonly MORPH_ELLIPSE: number;
  readonly MORPH_OPEN: number;
  readonly MORPH_CLOSE: number;
  readonly MORPH_ERODE: number;
  readonly MORPH_DILATE: number;
  readonly DIST_L2: number;

  adaptiveThreshold(s: CvMat, d: CvMat, max: number, method: number, type: number, block: number, c: number): void;
  threshold(s: CvMat, d: CvMat, level: number, max: number, type: number): number;
  GaussianBlur(s: CvMat, d: CvMat, size: CvSize, sigmaX: number, sigmaY: number, border: number): void;
  blur(s: CvMat, d: CvMat, size: CvSize, anchor: CvPoint, border: number): void;
  medianBlur(s: CvMat, d: CvMat, size: number): void;
  Sobel(s: CvMat, d: CvMat, depth: number, dx: number, dy: number, k: number, scale: number, delta: number): void;
  sepFilter2D(
    s: CvMat,
    d: CvMat,
    depth: number,
    kx: CvMat,
    ky: CvMat,
    anchor: CvPoint,
    delta: number,
    border: number,
  ): void;
  resize(s: CvMat, d: CvMat, size: CvSize, fx: number, fy: number, method: number): void;
  warpPerspective(s: CvMat, d: CvMat, m: CvMat, size: CvSize, flags: number, border: number, value: CvScalar): void;
  remap(s: CvMat, d: CvMat, mapX: CvMat, mapY: CvMat, method: number, border: number, value: CvScalar): void;
  cvtColor(s: CvMat, d: CvMat, code: number): void;
  findContours(s: CvMat, contours: CvMatVector, hierarchy: CvMat, mode: number, method: number): void;
  approxPolyDP(curve: CvMat, out: CvMat, epsilon: number, closed: boolean): void;
  getStructuringElement(shape: number, size: CvSize): CvMat;
  morphologyEx(s: CvMat, d: CvMat, op: number, kernel: CvMat): void;
  connectedComponentsWithStats(
    s: CvMat,
    labels: CvMat,
    stats: CvMat,
    centroids: CvMat,
    connectivity: number,
    labelType: number,
  ): number;
  distanceTransform(s: CvMat, d: CvMat, type: number, mask: number): void;
  watershed(s: CvMat, markers: CvMat): void;
  fillPoly(image: CvMat, polygons: CvMatVector, colour: CvScalar): void;
}

/** Checks that what was handed over is the library, and returns it typed. Throws otherwise: that is a bug of the host. */
export function asCvLibrary(candidate: unknown): CvLibrary {
  const needed = ['Mat', 'MatVector', 'findContours', 'warpPerspective', 'exceptionFromPtr'] as const;
  const object = candidate as Record<string, unknown> | null | undefined;
  for (const name of needed) {
    if (typeof object?.[name] !== 'function') throw new Error(`the OpenCV library lacks "${name}"`);
  }
  return candidate as CvLibrary;
}
