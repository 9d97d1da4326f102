import { insertCarrier } from '../../server/parcels/queries-carriers.ts';
import { insertChoice } from '../../server/parcels/queries-choices.ts';
import { insertBox, insertPack } from '../../server/parcels/queries-stock.ts';
import type { Db } from '../../server/plumbing/open-database.ts';
import { newCarrier } from '../../shared/parcels/carrier-form.ts';
import { cast, testNow } from './test-app.ts';

const hourMs = 3_600_000;

const roomyBox = { name: 'Roomy foam', lengthMm: 300, widthMm: 200, heightMm: 160 };
const tinyBox = { name: 'Tiny box', lengthMm: 110, widthMm: 100, heightMm: 80 };

/** A box, a pack and a carrier to decide for. */
export function stockToDecide(db: Db) {
  const wall = {
    wallMm: 20,
    conductivityWPerMK: 0.035,
    conductivitySource: 'test',
    conductanceWPerK: null,
    conductanceLogId: null,
    priceMinor: 0,
    note: '',
  };
  const boxOf = (size: typeof roomyBox) =>
    insertBox(db, { ...wall, ...size, emptyMassG: 180, numberLeft: 1 }, testNow);
  const packId = insertPack(
    db,
    {
      name: 'Warm pack',
      kind: 'heat',
      massG: 90,
      watts: 3,
      hours: 40,
      warmUpHours: 2,
      meltingC: null,
      latentJPerKg: null,
      heatCapacityJPerKgK: null,
      startTempC: null,
      smallestBoxL: 3,
      mostInBox: 1,
      priceMinor: 0,
      numberLeft: null,
      source: 'test',
      note: '',
    },
    testNow,
  );
  const carrierId = insertCarrier(db, { ...newCarrier, name: 'Night Post', country: 'DE' }, testNow);
  return { roomy: boxOf(roomyBox), tiny: boxOf(tinyBox), packId, carrierId };
}

type Stock = ReturnType<typeof stockToDecide>;

const curve = (scenario: 'forecast' | 'colder' | 'warmer' | 'late', insideC: number) => ({
  scenario,
  points: Array.from({ length: 29 }, (_each, hour) => ({ hour, insideC: insideC - hour / 20, outsideC: 4 })),
});

/** What the owner decided for an order: invented figures, all of them known. */
export function decide(
  db: Db,
  stock: Stock,
  orderId: number,
  more: {
    box?: 'roomy' | 'tiny';
    dispatchBy?: string | null;
    packs?: number;
    isHeld?: boolean;
    reason?: string;
  } = {},
): number {
  const { box = 'roomy', dispatchBy = '16:00', packs = 1, isHeld = false, reason = null } = more;
  const size = box === 'roomy' ? roomyBox : tinyBox;
  return insertChoice(db, {
    orderId,
    dispatchOn: '2026-11-30',
    arrivesOn: '2026-12-01',
    dispatchBy,
    carrierId: stock.carrierId,
    boxId: stock[box],
    packId: packs > 0 ? stock.packId : null,
    packs,
    isHeld,
    reason,
    lowestC: 11,
    highestC: 20,
    hoursBelowSafe: 3.2,
    hoursAboveSafe: 0,
    transitHours: 28,
    decided: {
      box: { id: stock[box], ...size },
      pack: packs > 0 ? { id: stock.packId, name: 'Warm pack', effect: 'warms' } : null,
      carrier: { id: stock.carrierId, name: 'Night Post' },
      places: [
        { role: 'origin', name: 'Home', source: 'the radio', readAt: testNow - 5 * hourMs },
        { role: 'destination', name: 'Far Wending', source: '', readAt: null },
      ],
      limits: { lethalLowC: 4, safeLowC: 12, safeHighC: 28, lethalHighC: 34 },
      curves: [curve('forecast', 16), curve('colder', 13), curve('warmer', 20), curve('late', 15)],
      why: reason === null ? [] : ['colder than is safe for 3 h'],
    },
    dispatchBefore: null,
    insteadOf: null,
    batch: null,
    madeBy: cast.owner.id,
    madeAt: testNow,
  });
}
