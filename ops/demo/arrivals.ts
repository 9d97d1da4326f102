import { asc, inArray } from 'drizzle-orm';
import sharp from 'sharp';
import { linkOf } from '../../server/arrivals/queries-links.ts';
import { keepReport, sentOf } from '../../server/arrivals/queries-reports.ts';
import { keepTrip } from '../../server/arrivals/queries-trips.ts';
import type { Db } from '../../server/plumbing/open-database.ts';
import { type PreparedPhoto, preparePhoto } from '../../server/plumbing/prepare-photo.ts';
import { boxes, orders, packs } from '../../server/schema/tables.ts';
import { addDays } from '../../shared/days.ts';
import type { Chance } from './chance.ts';
import { noonOf } from './write-story.ts';

const [width, height] = [960, 720];

/** Inside an ellipse around a middle, turned by an angle. */
const isIn = (
  x: number,
  y: number,
  [cx, cy, rx, ry, turn]: readonly [number, number, number, number, number],
) => {
  const [dx, dy] = [x - cx, y - cy];
  const [along, across] = [
    dx * Math.cos(turn) + dy * Math.sin(turn),
    dy * Math.cos(turn) - dx * Math.sin(turn),
  ];
  return (along / rx) ** 2 + (across / ry) ** 2 < 1;
};

/** A drawn photo: a cup of leaf litter from above, and a few animals that lie still in it. */
export async function drawPhoto(chance: Chance): Promise<PreparedPhoto> {
  const pixels = Buffer.alloc(width * height * 3);
  const cup = [width / 2, height / 2, 330, 320, 0] as const;
  const around = (far: number) => [width / 2 + chance.whole(-far, far), height / 2 + chance.whole(-far, far)];
  const leaves = Array.from({ length: 26 }, () => {
    const [x = 0, y = 0] = around(220);
    return {
      shape: [x, y, chance.whole(40, 80), chance.whole(14, 30), chance.whole(0, 314) / 100] as const,
      shade: chance.whole(-24, 24),
    };
  });
  const animals = Array.from({ length: 3 }, () => {
    const [x = 0, y = 0] = around(150);
    return [x, y, 26, 12, chance.whole(0, 314) / 100] as const;
  });
  for (let y = 0; y < height; y += 1) {
    for (let x = 0; x < width; x += 1) {
      const leaf = leaves.findLast(({ shape }) => isIn(x, y, shape));
      const grain = chance.whole(-9, 9);
      let colour = [196, 190, 178];
      if (isIn(x, y, cup)) colour = leaf ? [124 + leaf.shade, 92 + leaf.shade, 56] : [74, 56, 40];
      if (isIn(x, y, cup) && animals.some((one) => isIn(x, y, one))) colour = [176, 178, 186];
      colour.forEach((value, i) => {
        pixels[(y * width + x) * 3 + i] = Math.max(0, Math.min(255, value + grain));
      });
    }
  }
  const bytes = await sharp(pixels, { raw: { width, height, channels: 3 } })
    .jpeg({ quality: 80 })
    .toBuffer();
  const prepared = await preparePhoto(bytes);
  if (!('photo' in prepared)) throw new Error(prepared.why);
  return prepared.photo;
}

/** One parcel that arrived well, one with losses and a photo of them; both with the trip that was worked out. */
export function writeArrivals(tx: Db, today: string, photo: PreparedPhoto) {
  const [box] = tx.select({ id: boxes.id }).from(boxes).limit(1).all();
  const [pack] = tx.select({ id: packs.id }).from(packs).limit(1).all();
  const left = tx
    .select()
    .from(orders)
    .where(inArray(orders.state, ['sent', 'closed']))
    .orderBy(asc(orders.number))
    .all();
  for (const { id: orderId, state, sentOn, dispatchOn } of left) {
    const link = linkOf(tx, orderId);
    const on = sentOn ?? dispatchOn ?? today;
    const cold = state === 'sent';
    keepTrip(
      tx,
      orderId,
      {
        boxId: box?.id ?? null,
        packId: cold ? null : (pack?.id ?? null),
        lowestC: cold ? 5.5 : 14,
        highestC: cold ? 19 : 24.5,
        hoursBelowSafe: cold ? 5 : 0,
        hoursAboveSafe: 0,
        transitHours: 26,
      },
      { personId: null, now: noonOf(on) },
    );
    if (!link) continue;
    const losses = sentOf(tx, orderId)
      .slice(0, cold ? 1 : 0)
      .map(({ speciesId, animals }) => ({ speciesId, sent: animals, dead: 3, missing: 0 }));
    keepReport(tx, {
      orderId,
      linkId: link.id,
      formKey: `demo-arrival-of-${orderId}`,
      losses,
      note: cold ? 'Three lie still, also after a night in the warm room. The others are lively.' : '',
      photos: cold ? [photo] : [],
      now: noonOf(addDays(on, 1)),
    });
  }
}
