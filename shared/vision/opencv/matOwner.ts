// Memory of the wasm library is not garbage-collected. Every matrix lives inside one call of `withMats` and is freed
// when that call ends, however it ends; what leaves is a copy in a plain typed array.
import type { FloatImage, GrayImage, RgbImage } from '../image.ts';
import type { CvLibrary, CvMat, CvMatVector } from './cvLibrary.ts';

interface Deletable {
  delete(): void;
}

/** Owns the matrices of one operation. */
export class MatOwner {
  readonly cv: CvLibrary;
  readonly #owned: Deletable[] = [];
  readonly #census: MatCensus;

  constructor(cv: CvLibrary, census: MatCensus) {
    this.cv = cv;
    this.#census = census;
  }

  /** Registers something that the library allocated. */
  own<T extends Deletable>(thing: T): T {
    this.#owned.push(thing);
    this.#census.live++;
    return thing;
  }

  empty(): CvMat {
    return this.own(new this.cv.Mat());
  }

  vector(): CvMatVector {
    return this.own(new this.cv.MatVector());
  }

  gray(image: GrayImage): CvMat {
    const mat = this.own(new this.cv.Mat(image.heightPx, image.widthPx, this.cv.CV_8UC1));
    mat.data.set(image.data);
    return mat;
  }

  rgb(image: RgbImage): CvMat {
    const mat = this.own(new this.cv.Mat(image.heightPx, image.widthPx, this.cv.CV_8UC3));
    mat.data.set(image.data);
    return mat;
  }

  float(image: FloatImage): CvMat {
    const mat = this.own(new this.cv.Mat(image.heightPx, image.widthPx, this.cv.CV_32FC1));
    mat.data32F.set(image.data);
    return mat;
  }

  /** A row of numbers as double matrix of `rows` x `cols`. */
  doubles(rows: number, cols: number, values: readonly number[]): CvMat {
    const mat = this.own(new this.cv.Mat(rows, cols, this.cv.CV_64FC1));
    mat.data64F.set(values);
    return mat;
  }

  freeAll(): void {
    for (const thing of this.#owned.reverse()) thing.delete();
    this.#census.live -= this.#owned.length;
    this.#owned.length = 0;
  }
}

/** How many library objects are alive: zero between operations. */
export interface MatCensus {
  live: number;
}

export type WithMats = <T>(operation: (own: MatOwner) => T) => T;

/** Makes the one function through which every operation runs: frees its matrices and translates the library's errors. */
export function makeWithMats(cv: CvLibrary, census: MatCensus): WithMats {
  return (operation) => {
    const own = new MatOwner(cv, census);
    try {
      return operation(own);
    } catch (thrown) {
      // The library throws bare pointers to its exceptions.
      if (typeof thrown === 'number') throw new Error(`OpenCV: ${cv.exceptionFromPtr(thrown).msg}`);
      throw thrown;
    } finally {
      own.freeAll();
    }
  };
}

export function grayFrom(mat: CvMat): GrayImage {
  return { widthPx: mat.cols, heightPx: mat.rows, data: mat.data.slice() };
}

export function rgbFrom(mat: CvMat): RgbImage {
  return { widthPx: mat.cols, heightPx: mat.rows, data: mat.data.slice() };
}

export function floatFrom(mat: CvMat): FloatImage {
  return { widthPx: mat.cols, heightPx: mat.rows, data: mat.data32F.slice() };
}
