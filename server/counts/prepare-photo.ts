import { createHash } from 'node:crypto';
import sharp from 'sharp';

/** What is read at most: a phone's photo is a fifth of that, and a file that claims more is refused by its head. */
export const mostPhotoBytes = 10_000_000;
const mostPixels = 40_000_000;
/** Of a picture that must be held in memory whole before it can be made smaller: all but a plain JPEG. */
const mostPixelsAtOnce = 20_000_000;
const longestSidePx = 1600;
const leastSidePx = 64;
const secondsToWork = 10;

// Only these three are ever read, whatever a file's name or type says: no SVG, no PDF, no animation, no other loader.
sharp.block({ operation: ['VipsForeignLoad'] });
sharp.unblock({
  operation: ['VipsForeignLoadJpegBuffer', 'VipsForeignLoadPngBuffer', 'VipsForeignLoadWebpBuffer'],
});
sharp.cache(false);
sharp.concurrency(1);

export type PreparedPhoto = { bytes: Buffer; widthPx: number; heightPx: number; sha256: string };
/** A photo that can be kept, or what is wrong with the file in words for whoever sent it. */
export type Prepared = { photo: PreparedPhoto } | { why: string };

const asText = (bytes: Buffer, from: number, to: number) => bytes.subarray(from, to).toString('latin1');

/** What a file is by its first bytes (ITU-T T.81, ISO/IEC 15948, RFC 9649); its name is not looked at. */
function kindOf(bytes: Buffer): 'jpeg' | 'png' | 'webp' | null {
  if (asText(bytes, 0, 3) === '\xff\xd8\xff') return 'jpeg';
  if (asText(bytes, 0, 8) === '\x89PNG\r\n\x1a\n') return 'png';
  if (asText(bytes, 0, 4) === 'RIFF' && asText(bytes, 8, 12) === 'WEBP') return 'webp';
  return null;
}

const noPhoto = 'This file is no photo that can be read. Send a JPEG, PNG or WebP.';

function newer(bytes: Buffer): string {
  return /^ftyp(hei|mif|avi)/.test(asText(bytes, 4, 11))
    ? 'This is a HEIC or AVIF photo, which cannot be read here. Set the phone’s camera to JPEG (“most compatible”), or send a screenshot of it.'
    : noPhoto;
}

let last: Promise<unknown> = Promise.resolve();

/** One after another: each takes memory by its pixels. */
export function preparePhoto(bytes: Buffer): Promise<Prepared> {
  const mine = last.then(() => prepare(bytes));
  last = mine.catch(() => undefined);
  return mine;
}

/**
 * Draws the photo anew, upright, at most 1600 px long, as a plain JPEG: whatever else the file carried (place, camera,
 * a script behind the picture) does not come along. Sizes are judged by the file's head, before a pixel is unpacked.
 */
async function prepare(bytes: Buffer): Promise<Prepared> {
  const kind = kindOf(bytes);
  if (!kind) return { why: newer(bytes) };
  const read = () =>
    sharp(bytes, { limitInputPixels: mostPixels, failOn: 'truncated', sequentialRead: true });
  try {
    const { width, height, format, isProgressive, pages = 1 } = await read().metadata();
    if (format !== kind || pages > 1) return { why: noPhoto };
    const whole = format !== 'jpeg' || isProgressive;
    if (width * height > (whole ? mostPixelsAtOnce : mostPixels))
      return { why: `This photo has ${width} by ${height} pixels: too many. Send a smaller one.` };
    if (Math.min(width, height) < leastSidePx)
      return { why: `This photo is too small to count on: ${width} by ${height} pixels.` };
    const { data, info } = await read()
      .rotate()
      .resize({ width: longestSidePx, height: longestSidePx, fit: 'inside', withoutEnlargement: true })
      .flatten({ background: '#ffffff' })
      .jpeg({ quality: 82 })
      .timeout({ seconds: secondsToWork })
      .toBuffer({ resolveWithObject: true });
    const sha256 = createHash('sha256').update(data).digest('hex');
    return { photo: { bytes: data, widthPx: info.width, heightPx: info.height, sha256 } };
  } catch {
    // The library names what it stumbled over; for whoever sent the file it comes to the same.
    return {
      why: 'This photo is damaged, too large or did not arrive whole. Take it again, or send another.',
    };
  }
}
