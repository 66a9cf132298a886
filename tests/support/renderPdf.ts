// One page of a PDF as a picture, rendered by pdf.js: an independent program that knows nothing of ours.
import { getDocument } from 'pdfjs-dist/legacy/build/pdf.mjs';

export interface RenderedPage {
  readonly pxPerMm: number;
  /** 0 = white, 1 = black, by the red channel of the pixel. */
  readonly darkness: (xPx: number, yPx: number) => number;
}

/** pdf.js brings a canvas of its own for Node and refuses paths of another one; its types only say "Object". */
interface CanvasFactory {
  create(
    width: number,
    height: number,
  ): { readonly canvas: HTMLCanvasElement; readonly context: CanvasRenderingContext2D };
}

/** @param pxPerPoint pixels for each point (1/72 inch) of the page */
export async function renderPdfPage(data: Uint8Array, pageNumber: number, pxPerPoint: number): Promise<RenderedPage> {
  const pdf = await getDocument({ data: data.slice(), verbosity: 0 }).promise;
  const page = await pdf.getPage(pageNumber);
  const viewport = page.getViewport({ scale: pxPerPoint });
  const factory = pdf.canvasFactory as CanvasFactory;
  const { canvas, context } = factory.create(Math.ceil(viewport.width), Math.ceil(viewport.height));
  await page.render({ canvas, canvasContext: context, viewport }).promise;
  const { width, height } = canvas;
  const pixels = context.getImageData(0, 0, width, height).data;
  await pdf.destroy();
  return {
    pxPerMm: (pxPerPoint * 72) / 25.4,
    darkness: (x, y) => 1 - (pixels[4 * (y * width + x)] ?? 255) / 255,
  };
}

/** Centre of the dark line near a place, along x or y, in millimetres; averaged over 4 mm of the line. */
export function lineNear(page: RenderedPage, axis: 'x' | 'y', aboutMm: number, acrossMm: number): number {
  const { darkness, pxPerMm } = page;
  let weight = 0;
  let sum = 0;
  for (let i = Math.round((aboutMm - 1) * pxPerMm); i <= (aboutMm + 1) * pxPerMm; i++) {
    for (let j = Math.round((acrossMm - 2) * pxPerMm); j <= (acrossMm + 2) * pxPerMm; j++) {
      const dark = axis === 'x' ? darkness(i, j) : darkness(j, i);
      weight += dark;
      sum += dark * (i + 0.5);
    }
  }
  if (weight === 0) throw new Error(`no line near ${axis} = ${aboutMm} mm`);
  return sum / weight / pxPerMm;
}
