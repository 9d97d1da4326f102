import { deflateRawSync, deflateSync } from 'node:zlib';
import { eq } from 'drizzle-orm';
import { PNG } from 'pngjs';
import sharp from 'sharp';
import { describe, expect, it } from 'vitest';
import { forgetOpenPhotos } from '../../server/counts/queries-photos.ts';
import { preparePhoto } from '../../server/plumbing/prepare-photo.ts';
import { countPhotoFiles, countPhotos, diary } from '../../server/schema/tables.ts';
import { readTaps } from '../../shared/counts/taps.ts';
import { makeCulture } from '../support/stock.ts';
import { type TestApp, testApp } from '../support/test-app.ts';

const raw = (width: number, height: number) => ({
  create: { width, height, channels: 3 as const, background: '#7a6a50' },
});
const jpeg = (width = 800, height = 600) => sharp(raw(width, height)).jpeg().toBuffer();
const photoFile = (bytes: Buffer, name = 'wall.jpg') => ({ field: 'photo', name, bytes });

const photos = ({ db }: TestApp) => db.select().from(countPhotos).all();

async function withPhoto() {
  const app = await testApp();
  const { code, id } = makeCulture(app.db);
  const sent = await app.helper.upload(`/cultures/${code}/photo`, photoFile(await jpeg()));
  expect([sent.status, sent.headers.location]).toEqual([303, `/cultures/${code}/photo/1`]);
  return { app, code, id };
}

describe('a photo', () => {
  it('is made small and upright, and says nothing of where it was taken', async () => {
    const place = {
      IFD3: { GPSLatitudeRef: 'N', GPSLatitude: '52/1 30/1 0/1' },
      IFD0: { Make: 'Secret Camera' },
    };
    const turned = await sharp(raw(3000, 2000))
      .jpeg()
      .withExif(place)
      .withMetadata({ orientation: 6 })
      .toBuffer();
    expect(turned.includes('Exif')).toBe(true);
    const prepared = await preparePhoto(turned);
    if ('why' in prepared) throw new Error(prepared.why);
    const { bytes, widthPx, heightPx, sha256 } = prepared.photo;
    expect([widthPx, heightPx]).toEqual([1067, 1600]);
    expect(sha256).toMatch(/^[0-9a-f]{64}$/);
    const { exif, icc, xmp, format } = await sharp(bytes).metadata();
    expect([format, exif, icc, xmp]).toEqual(['jpeg', undefined, undefined, undefined]);
    for (const secret of ['Exif', 'GPS', 'Secret']) expect(bytes.includes(secret)).toBe(false);
  });

  it('may be a PNG, a WebP or an AVIF', async () => {
    for (const bytes of [
      await sharp(raw(300, 200)).png().toBuffer(),
      await sharp(raw(300, 200)).webp().toBuffer(),
      await sharp(raw(300, 200)).avif().toBuffer(),
    ])
      expect(await preparePhoto(bytes)).toMatchObject({ photo: { widthPx: 300, heightPx: 200 } });
  });
});

/** The head of a file of the ISO base media format with these brands (ISO/IEC 14496-12, 4.3), and noise behind it. */
function branded(...brands: string[]): Buffer {
  const [major = '', ...others] = brands;
  const head = Buffer.alloc(16 + others.length * 4);
  head.writeUInt32BE(head.length, 0);
  head.write(`ftyp${major}`, 4, 'latin1');
  head.write(others.join(''), 16, 'latin1');
  return Buffer.concat([head, Buffer.alloc(3000, 7)]);
}

describe('a photo of a kind that cannot be read', () => {
  it.each([
    ['a phone’s', branded('heic', 'mif1', 'heic')],
    ['a phone’s of another make', branded('mif1', 'heic', 'miaf')],
    ['a moving one', branded('hevc', 'msf1', 'hevc')],
  ])('(%s) is answered with what to set on the phone', async (_, bytes) => {
    const prepared = await preparePhoto(bytes);
    expect('why' in prepared && prepared.why).toContain('choose “Most compatible”');
  });

  it('is not taken for an AVIF by its brand alone', async () => {
    for (const bytes of [branded('avif', 'heic'), branded('avif'), branded('mif1', 'avif')])
      expect(await preparePhoto(bytes)).toMatchObject({ why: expect.stringContaining('damaged') });
    expect(await preparePhoto(branded('isom', 'mp42'))).toMatchObject({
      why: expect.stringContaining('no photo'),
    });
  });
});

/** A PNG that claims to be so wide and high, with hardly anything in it (ISO/IEC 15948, 11.2.2). */
function claiming(width: number, height: number): Buffer {
  const chunk = (type: string, data: Buffer) => {
    const body = Buffer.concat([Buffer.from(type), data]);
    const ends = Buffer.alloc(8);
    ends.writeUInt32BE(data.length, 0);
    ends.writeUInt32BE(crc32(body), 4);
    return Buffer.concat([ends.subarray(0, 4), body, ends.subarray(4)]);
  };
  const head = Buffer.alloc(13);
  head.writeUInt32BE(width, 0);
  head.writeUInt32BE(height, 4);
  head.set([8, 2, 0, 0, 0], 8);
  const start = Buffer.from('\x89PNG\r\n\x1a\n', 'latin1');
  const data = deflateSync(Buffer.alloc(1000));
  return Buffer.concat([start, chunk('IHDR', head), chunk('IDAT', data), chunk('IEND', Buffer.alloc(0))]);
}

function crc32(bytes: Buffer): number {
  let crc = ~0;
  for (const byte of bytes) {
    crc ^= byte;
    for (let bit = 0; bit < 8; bit += 1) crc = (crc >>> 1) ^ (crc & 1 ? 0xedb88320 : 0);
  }
  return ~crc >>> 0;
}

/** A JPEG whose head says 64,250 by 64,250 pixels (ITU-T T.81, B.2.2). */
async function hugeJpeg(): Promise<Buffer> {
  const bytes = Buffer.from(await jpeg(100, 100));
  const frame = bytes.indexOf(Buffer.from([0xff, 0xc0]));
  bytes.writeUInt16BE(64_250, frame + 5);
  bytes.writeUInt16BE(64_250, frame + 7);
  return bytes;
}

describe('a file that is sent as a photo', () => {
  const svg = Buffer.from('<svg xmlns="http://www.w3.org/2000/svg"><script>alert(1)</script></svg>');
  const attacks: [string, () => Buffer | Promise<Buffer>][] = [
    ['a drawing with a script', () => svg],
    [
      'a drawing behind the mark of a PNG',
      () => Buffer.concat([Buffer.from('\x89PNG\r\n\x1a\n', 'latin1'), svg]),
    ],
    ['a page', () => Buffer.from('<!doctype html><script>alert(1)</script>')],
    ['an animation that is a script too', () => Buffer.from('GIF89a/*\x01\x00*/=1;alert(1)//')],
    ['a PDF', () => Buffer.from('%PDF-1.7\n1 0 obj<</S/JavaScript>>')],
    ['packed nothing', () => deflateRawSync(Buffer.alloc(5_000_000))],
    ['a PNG that claims 50,000 by 50,000', () => claiming(50_000, 50_000)],
    ['a PNG that claims 30,000 by 1,400', () => claiming(30_000, 1_400)],
    ['a PNG that claims 5,000 by 4,100', () => claiming(5_000, 4_100)],
    ['a JPEG that claims 64,250 by 64,250', hugeJpeg],
    ['a truncated JPEG', async () => (await noise()).subarray(0, 6000)],
    ['only the mark of a JPEG', () => Buffer.from([0xff, 0xd8, 0xff])],
    ['a WebP without anything in it', () => Buffer.from('RIFF\x04\0\0\0WEBP', 'latin1')],
    ['a speck', () => jpeg(5, 5)],
    ['an animated WebP', animation],
    ['random bytes', () => Buffer.from(Array.from({ length: 5000 }, (_, i) => (i * 7919 + 13) % 251))],
  ];

  it.each(attacks)('(%s) is refused in words beside the field, and nothing is kept', async (_, make) => {
    const app = await testApp();
    const { code } = makeCulture(app.db);
    const before = process.memoryUsage().rss;
    const answer = await app.helper.upload(`/cultures/${code}/photo`, photoFile(await make()));
    expect(process.memoryUsage().rss - before).toBeLessThan(100_000_000);
    expect(answer.status).toBe(422);
    expect(answer.text).toContain('id="field-photo-error"');
    expect(answer.text).not.toContain('alert(1)');
    expect(answer.text).not.toMatch(/Vips|heif|libvips|Input buffer/);
    expect(photos(app)).toEqual([]);
  });

  it('and hides something behind the picture loses it', async () => {
    const prepared = await preparePhoto(
      Buffer.concat([await jpeg(), Buffer.from('<script>alert(1)</script>PK\x03\x04')]),
    );
    if ('why' in prepared) throw new Error(prepared.why);
    expect(prepared.photo.bytes.includes('script')).toBe(false);
    expect(prepared.photo.bytes.includes('PK\x03\x04')).toBe(false);
  });

  it('is refused when it is larger than ten megabytes, empty or missing', async () => {
    const app = await testApp();
    const { code } = makeCulture(app.db);
    const at = `/cultures/${code}/photo`;
    expect((await app.helper.upload(at, photoFile(Buffer.alloc(10_000_001)))).status).toBe(413);
    expect((await app.helper.upload(at, photoFile(Buffer.alloc(0)))).status).toBe(422);
    expect((await app.helper.upload(at, [])).text).toContain('Take a photo or choose one');
    expect(photos(app)).toEqual([]);
  });
});

async function noise(): Promise<Buffer> {
  const picture = new PNG({ width: 256, height: 256 });
  for (let i = 0; i < picture.data.length; i += 1) picture.data[i] = (i * 2_654_435_761) % 253;
  return sharp(PNG.sync.write(picture)).flatten().jpeg({ quality: 95 }).toBuffer();
}

async function animation(): Promise<Buffer> {
  const frames = await Promise.all(
    ['#000', '#fff'].map((background) =>
      sharp({ create: { width: 80, height: 80, channels: 3, background } })
        .png()
        .toBuffer(),
    ),
  );
  return sharp(frames, { join: { animated: true } })
    .webp({ loop: 0 })
    .toBuffer();
}

describe('counting on a photo', () => {
  it('shows the photo, takes the taps, and shows both again in the diary', async () => {
    const { app, code } = await withPhoto();
    const page = await app.helper.get(`/cultures/${code}/photo/1`);
    expect(page.text).toContain('src="/photos/1.jpg"');
    const file = await app.helper.bytes('/photos/1.jpg');
    expect([file.status, file.type]).toEqual([200, 'image/jpeg']);
    expect(file.body.subarray(0, 3).toString('latin1')).toBe('\xff\xd8\xff');
    const taps = [
      [1000, 2000],
      [5000, 5000],
    ];
    const fields = { method: 'visible', photo: 1, taps: JSON.stringify(taps), counted: 2 };
    expect((await app.helper.post(`/cultures/${code}/count`, fields)).status).toBe(303);
    const [entry] = app.db.select().from(diary).where(eq(diary.kind, 'count')).all();
    expect(JSON.parse(entry?.countInput ?? '')).toMatchObject({ method: 'visible', counted: 2 });
    expect(photos(app)).toMatchObject([{ diaryId: entry?.id, taps: JSON.stringify(taps) }]);
    expect((await app.helper.get(`/cultures/${code}`)).text).toContain(`/diary/${entry?.id}">Photo</a>`);
    const shown = await app.helper.get(`/cultures/${code}/diary/${entry?.id}`);
    expect(shown.text).toContain('2 taps on the photo.');
    expect(shown.text.match(/<circle cx="(80|400)"/g)).toHaveLength(2);
    expect((await app.helper.get(`/cultures/${code}/photo/1`)).headers.location).toBe(
      `/cultures/${code}/diary/${entry?.id}`,
    );
    await app.helper.post(`/cultures/${code}/diary/${entry?.id}`, {
      onDay: entry?.onDay ?? '',
      number: 3,
      note: '',
    });
    const later = app.db.select().from(diary).all().at(-1);
    expect((await app.helper.get(`/cultures/${code}/diary/${later?.id}`)).text).toContain(
      '2 taps on the photo.',
    );
  });

  it('lets the number be typed, and keeps photo and taps when the form comes back', async () => {
    const { app, code } = await withPhoto();
    const wrong = await app.helper.post(`/cultures/${code}/count`, {
      method: 'visible',
      photo: 1,
      taps: '[[1,2]]',
      counted: 'lots',
    });
    expect(wrong.status).toBe(422);
    expect(wrong.text).toContain('name="photo" value="1"');
    expect(wrong.text).toContain('name="taps" value="[[1,2]]"');
    await app.helper.post(`/cultures/${code}/count`, {
      method: 'visible',
      photo: 1,
      taps: 'nonsense',
      counted: 'about 40',
    });
    expect(photos(app)).toMatchObject([{ taps: '[]' }]);
    expect(app.db.select().from(diary).all()).toMatchObject([{ wording: 'about 40' }]);
  });

  it('never moves a photo to another count or another culture', async () => {
    const { app, code } = await withPhoto();
    const other = makeCulture(app.db);
    expect((await app.helper.get(`/cultures/${other.code}/photo/1`)).status).toBe(404);
    await app.helper.post(`/cultures/${other.code}/count`, { method: 'visible', photo: 1, counted: 5 });
    expect(photos(app)).toMatchObject([{ diaryId: null }]);
    await app.helper.post(`/cultures/${code}/count`, { method: 'visible', photo: 1, counted: 5 });
    const [{ diaryId } = { diaryId: null }] = photos(app);
    await app.helper.post(`/cultures/${code}/count`, { method: 'visible', photo: 1, counted: 6 });
    expect(photos(app)).toMatchObject([{ diaryId }]);
  });

  it('is for people of the business only', async () => {
    const { app, code } = await withPhoto();
    expect((await app.outsider.get('/photos/1.jpg')).status).toBe(303);
    expect((await app.outsider.get(`/cultures/${code}/photo`)).status).toBe(303);
    for (const path of ['/photos/2.jpg', '/photos/0.jpg', '/photos/..%2f1.jpg', '/photos/x.jpg'])
      expect((await app.helper.get(path)).status, path).toBe(404);
    const image = await app.helper.get('/photos/1.jpg');
    expect(image.headers['x-content-type-options']).toBe('nosniff');
    expect(image.headers['content-security-policy']).toContain("default-src 'none'");
  });

  it('keeps a photo once though it is sent twice, and only so many that nobody counted on', async () => {
    const { app, code } = await withPhoto();
    const bytes = await jpeg();
    for (let sent = 0; sent < 2; sent += 1)
      await app.helper.upload(
        `/cultures/${code}/photo`,
        photoFile(bytes),
        {},
        { formKey: 'the-same-form-key-03' },
      );
    expect(photos(app)).toHaveLength(2);
    for (let sent = 0; sent < 20; sent += 1)
      await app.helper.upload(`/cultures/${code}/photo`, photoFile(bytes));
    expect(photos(app)).toHaveLength(20);
    expect(app.db.select({ id: countPhotoFiles.photoId }).from(countPhotoFiles).all()).toHaveLength(20);
    expect(forgetOpenPhotos(app.db, app.clock.now() + 1)).toBe(20);
    expect(app.db.select().from(countPhotoFiles).all()).toEqual([]);
  });

  it('goes along when everything is taken out', async () => {
    const { app, code } = await withPhoto();
    await app.helper.post(`/cultures/${code}/count`, {
      method: 'visible',
      photo: 1,
      taps: '[[1,2]]',
      counted: 1,
    });
    const { status, type, body } = await app.owner.bytes('/records/export/photos.tar');
    expect([status, type]).toEqual([200, 'application/x-tar']);
    const name = body.subarray(0, 100).toString('latin1').replace(/\0+$/, '');
    expect(name).toBe(`2026-11-25-${code}-photo-1.jpg`);
    const size = Number.parseInt(body.subarray(124, 135).toString('latin1'), 8);
    const kept = app.db.select().from(countPhotoFiles).get();
    expect(body.subarray(512, 512 + size).equals(kept?.bytes ?? Buffer.alloc(0))).toBe(true);
    expect(body.length % 512).toBe(0);
    expect((await app.owner.get('/records/export/everything.json')).text).toContain('[[1,2]]');
    expect((await app.helper.get('/records/export/photos.tar')).status).toBe(403);
  });
});

describe('taps in a form', () => {
  it('are pairs of whole numbers on the photo, or none', () => {
    expect(readTaps('[[5000,2500]]')).toEqual([[5000, 2500]]);
    for (const text of [
      '',
      'x',
      '{}',
      '[[1]]',
      '[[1,2,3]]',
      '[[-1,2]]',
      '[[1,10001]]',
      '[["1",2]]',
      undefined,
      ['[]'],
    ])
      expect(readTaps(text)).toEqual([]);
    expect(readTaps(JSON.stringify(Array(3001).fill([1, 1])))).toEqual([]);
  });
});
