// Operations that turn one picture into another of the same size.
import type { FloatImage, GrayImage, RgbImage } from '../image.ts';
import type { CvMat } from './cvLibrary.ts';
import { floatFrom, grayFrom, type MatOwner, rgbFrom, type WithMats } from './matOwner.ts';

export interface AdaptiveThresholdOptions {
  /** Odd side of the window over which the mean is taken. */
  readonly windowPx: number;
  /** Grey levels that a pixel must be below (or above) the mean. */
  readonly offset: number;
  /** Which pixels become 255. */
  readonly pick: 'dark' | 'light';
}

export interface MorphologyOptions {
  readonly operation: 'open' | 'close' | 'erode' | 'dilate';
  readonly kernel: 'rect' | 'ellipse';
  /** Odd side of the kernel. */
  readonly sizePx: number;
}

export interface SeparableKernel {
  /** Odd number of taps along x. */
  readonly alongX: readonly number[];
  /** Odd number of taps along y. */
  readonly alongY: readonly number[];
}

export interface Filters {
  /** 255 where a pixel is darker (or lighter) than the mean of its surroundings by `offset`. */
  adaptiveThreshold(image: GrayImage, options: AdaptiveThresholdOptions): GrayImage;
  /** 255 where the pixel is above `level`. */
  threshold(image: GrayImage, level: number): GrayImage;
  /** Otsu's level for the whole picture, and the picture cut there (255 above). */
  otsu(image: GrayImage): { readonly level: number; readonly mask: GrayImage };
  gaussianBlur(image: GrayImage, sigmaPx: number): GrayImage;
  gaussianBlurFloat(image: FloatImage, sigmaPx: number): FloatImage;
  gaussianBlurRgb(image: RgbImage, sigmaPx: number): RgbImage;
  /** Mean over a window of `sizePx` squared. */
  boxBlur(image: GrayImage, sizePx: number): GrayImage;
  /** Median over an odd window; 3 or 5 are quick. */
  medianBlur(image: GrayImage, sizePx: number): GrayImage;
  /** First derivatives by Sobel 3x3, scaled to grey levels per pixel. */
  sobel(image: GrayImage): { readonly dx: FloatImage; readonly dy: FloatImage };
  /** Separable filter with own taps; the rim is mirrored. */
  sepFilter2D(image: GrayImage, kernel: SeparableKernel): FloatImage;
  sepFilter2DFloat(image: FloatImage, kernel: SeparableKernel): FloatImage;
  morphology(mask: GrayImage, options: MorphologyOptions): GrayImage;
  /** sRGB to 8-bit Lab (L scaled by 255/100, a and b offset by 128), interleaved. */
  rgbToLab(image: RgbImage): RgbImage;
  rgbToGray(image: RgbImage): GrayImage;
}

/** Sobel's 3x3 kernel sums weights of 4 over a distance of 2 pixels. */
const SOBEL_SCALE = 1 / 8;

export function makeFilters(withMats: WithMats): Filters {
  return {
    adaptiveThreshold: (image, { windowPx, offset, pick }) =>
      withMats((own) => {
        const { cv } = own;
        const out = own.empty();
        const type = pick === 'dark' ? cv.THRESH_BINARY_INV : cv.THRESH_BINARY;
        const below = pick === 'dark' ? offset : -offset;
        cv.adaptiveThreshold(own.gray(image), out, 255, cv.ADAPTIVE_THRESH_MEAN_C, type, windowPx, below);
        return grayFrom(out);
      }),
    threshold: (image, level) =>
      withMats((own) => {
        const out = own.empty();
        own.cv.threshold(own.gray(image), out, level, 255, own.cv.THRESH_BINARY);
        return grayFrom(out);
      }),
    otsu: (image) =>
      withMats((own) => {
        const { cv } = own;
        const out = own.empty();
        const level = cv.threshold(own.gray(image), out, 0, 255, cv.THRESH_BINARY + cv.THRESH_OTSU);
        return { level, mask: grayFrom(out) };
      }),
    gaussianBlur: (image, sigmaPx) =>
      withMats((own) => {
        const { cv } = own;
        const out = own.empty();
        cv.GaussianBlur(own.gray(image), out, new cv.Size(0, 0), sigmaPx, sigmaPx, cv.BORDER_REFLECT_101);
        return grayFrom(out);
      }),
    gaussianBlurFloat: (image, sigmaPx) =>
      withMats((own) => {
        const { cv } = own;
        const out = own.empty();
        cv.GaussianBlur(own.float(image), out, new cv.Size(0, 0), sigmaPx, sigmaPx, cv.BORDER_REFLECT_101);
        return floatFrom(out);
      }),
    gaussianBlurRgb: (image, sigmaPx) =>
      withMats((own) => {
        const { cv } = own;
        const out = own.empty();
        cv.GaussianBlur(own.rgb(image), out, new cv.Size(0, 0), sigmaPx, sigmaPx, cv.BORDER_REFLECT_101);
        return rgbFrom(out);
      }),
    boxBlur: (image, sizePx) =>
      withMats((own) => {
        const { cv } = own;
        const out = own.empty();
        cv.blur(own.gray(image), out, new cv.Size(sizePx, sizePx), new cv.Point(-1, -1), cv.BORDER_REFLECT_101);
        return grayFrom(out);
      }),
    medianBlur: (image, sizePx) =>
      withMats((own) => {
        const out = own.empty();
        own.cv.medianBlur(own.gray(image), out, sizePx);
        return grayFrom(out);
      }),
    sobel: (image) =>
      withMats((own) => {
        const { cv } = own;
        const source = own.gray(image);
        const out = own.empty();
        cv.Sobel(source, out, cv.CV_32F, 1, 0, 3, SOBEL_SCALE, 0);
        const dx = floatFrom(out);
        cv.Sobel(source, out, cv.CV_32F, 0, 1, 3, SOBEL_SCALE, 0);
        return { dx, dy: floatFrom(out) };
      }),
    sepFilter2D: (image, kernel) => withMats((own) => separable(own, own.gray(image), kernel)),
    sepFilter2DFloat: (image, kernel) => withMats((own) => separable(own, own.float(image), kernel)),
    morphology: (mask, { operation, kernel, sizePx }) =>
      withMats((own) => {
        const { cv } = own;
        const codes = { open: cv.MORPH_OPEN, close: cv.MORPH_CLOSE, erode: cv.MORPH_ERODE, dilate: cv.MORPH_DILATE };
        const shape = kernel === 'rect' ? cv.MORPH_RECT : cv.MORPH_ELLIPSE;
        const element = own.own(cv.getStructuringElement(shape, new cv.Size(sizePx, sizePx)));
        const out = own.empty();
        cv.morphologyEx(own.gray(mask), out, codes[operation], element);
        return grayFrom(out);
      }),
    rgbToLab: (image) =>
      withMats((own) => {
        const out = own.empty();
        own.cv.cvtColor(own.rgb(image), out, own.cv.COLOR_RGB2Lab);
        return rgbFrom(out);
      }),
    rgbToGray: (image) =>
      withMats((own) => {
        const out = own.empty();
        own.cv.cvtColor(own.rgb(image), out, own.cv.COLOR_RGB2GRAY);
        return grayFrom(out);
      }),
  };
}

function separable(own: MatOwner, source: CvMat, kernel: SeparableKernel): FloatImage {
  const { cv } = own;
  const alongX = own.doubles(1, kernel.alongX.length, kernel.alongX);
  const alongY = own.doubles(1, kernel.alongY.length, kernel.alongY);
  const out = own.empty();
  cv.sepFilter2D(source, out, cv.CV_32F, alongX, alongY, new cv.Point(-1, -1), 0, cv.BORDER_REFLECT_101);
  return floatFrom(out);
}
