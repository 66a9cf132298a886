// Writes a picture of ours as JPEG, for the set file and the window.
import sharp from 'sharp';
import type { GrayImage, RgbImage } from '../../shared/vision/image.ts';

const QUALITY_PERCENT = 82;

export async function encodeJpeg(image: GrayImage | RgbImage): Promise<Uint8Array> {
  const { widthPx: width, heightPx: height, data } = image;
  const channels = data.length === width * height ? 1 : 3;
  const jpeg = await sharp(data, { raw: { width, height, channels } }).jpeg({ quality: QUALITY_PERCENT }).toBuffer();
  return new Uint8Array(jpeg);
}
