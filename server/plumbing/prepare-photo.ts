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

// Only these four are ever read, whatever a file's name or type says: no SVG, no PDF, no animation, no other loader.
sharp.block({ operation: ['VipsForeignLoad'] });
sharp.unblock({
  operation: [
    'VipsForeignLoadJpegBuffer',
    'VipsForeignLoadPngBuffer',
    'VipsForeignLoadWebpBuffer',
    'VipsForeignLoadHeifBuffer',
  ],
});
sharp.cache(false);
sharp.concurrency(1);

export type PreparedPhoto = { bytes: Buffer; widthPx: number; heightPx: number; sha256: string };
/** What can be wrong with a file, for pages that say it in other words. */
export type PhotoFault = 'no photo' | 'heic' | 'too many pixels' | 'too small' | 'damaged';
/** A photo that can be kept, or what is wrong with the file, also in words for whoever sent it. */
export type Prepared = { photo: PreparedPhoto } | { fault: PhotoFault; why: string };

const asText = (bytes: Buffer, from: number, to: number) => bytes.subarray(from, to).toString('latin1');

type Kind = 'jpeg' | 'png' | 'webp' | 'avif';

/** The brands that a file of the ISO base media format says it is made by (ISO/IEC 14496-12, 4.3); none for others. */
function brandsOf(bytes: Buffer): string[] {
  if (asText(bytes, 4, 8) !== 'ftyp' || bytes.length < 16) return [];
  const end = Math.min(bytes.readUInt32BE(0), bytes.length, 256);
  const brands = [asText(bytes, 8, 12)];
  for (let at = 16; at + 4 <= end; at += 4) brands.push(asText(bytes, at, at + 4));
  return brands;
}

/** What a file is by its first bytes (ITU-T T.81, ISO/IEC 15948, RFC 9649, AVIF 1.1); its name is not looked at. */
function kindOf(bytes: Buffer): Kind | null {
  if (asText(bytes, 0, 3) === '\xff\xd8\xff') return 'jpeg';
  if (asText(bytes, 0, 8) === '\x89PNG\r\n\x1a\n') return 'png';
  if (asText(bytes, 0, 4) === 'RIFF' && asText(bytes, 8, 12) === 'WEBP') return 'webp';
  return brandsOf(bytes).includes('avif') ? 'avif' : null;
}

const noPhoto = 'This file is no photo that can be read. Send a JPEG, PNG, WebP or AVIF.';
/** Its picture is coded in a way that may not be read here without a licence. */
const heic =
  'This is a HEIC photo, which cannot be read here. On the phone open Settings, Camera, Formats and choose “Most compatible” (on others turn “High efficiency pictures” off), then take it again; or send a screenshot of it.';

/** Other kinds of the same family, by their brand (ISO/IEC 23008-12, annex B). */
const unread = (bytes: Buffer): Prepared =>
  brandsOf(bytes).some((brand) => /^(hei[cxms]|hev[cxms]|mif1|msf1)$/.test(brand))
    ? { fault: 'heic', why: heic }
    : { fault: 'no photo', why: noPhoto };

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
  if (!kind) return unread(bytes);
  const read = () =>
    sharp(bytes, { limitInputPixels: mostPixels, failOn: 'truncated', sequentialRead: true });
  try {
    const { width, height, format, compression, isProgressive, pages = 1 } = await read().metadata();
    // The library calls the whole family by one name and says apart how the picture is coded.
    if ((compression === 'av1' ? 'avif' : format) !== kind || pages > 1)
      return { fault: 'no photo', why: noPhoto };
    const whole = format !== 'jpeg' || isProgressive;
    if (width * height > (whole ? mostPixelsAtOnce : mostPixels))
      return {
        fault: 'too many pixels',
        why: `This photo has ${width} by ${height} pixels: too many. Send a smaller one.`,
      };
    if (Math.min(width, height) < leastSidePx)
      return {
        fault: 'too small',
        why: `This photo is too small to count on: ${width} by ${height} pixels.`,
      };
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
      fault: 'damaged',
      why: 'This photo is damaged, too large or did not arrive whole. Take it again, or send another.',
    };
  }
}
