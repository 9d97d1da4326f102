import { setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';
import { startPrinting } from '../../server/plumbing/print-in-thread.ts';
import type { PrintJob } from '../../server/plumbing/print-job.ts';
import { parcelWeight } from '../../shared/documents/parcel-weight.ts';
import { standCups } from '../../shared/documents/stand-cups.ts';
import type { PackingParcel } from '../../views/documents/packing-parcel-data.ts';
import { writePackingSheets } from '../../views/documents/packing-sheet.ts';
import type { PackingSheetData } from '../../views/documents/packing-sheet-data.ts';
import type { PrintOptions } from '../../views/documents/print-options.ts';
import { ms } from './timing.ts';

const options: PrintOptions = {
  paper: 'A4',
  units: 'metric',
  language: 'en',
  locale: 'en-GB',
  businessName: 'Bench',
  printedOn: '2026-11-25',
  createdAt: Date.UTC(2026, 10, 25),
};

const note = (words: string) => ({ words, isUsual: true });
const inside = { lengthMm: 300, widthMm: 200, heightMm: 160 };
const limits = { lethalLowC: 0, safeLowC: 8, idealLowC: 18, idealHighC: 25, safeHighC: 28, lethalHighC: 33 };

const points = (shift: number) =>
  Array.from({ length: 60 }, (_each, hour) => ({
    hour,
    insideC: 16 + shift + 3 * Math.sin(hour / 5),
    outsideC: 6 + shift + 5 * Math.sin(hour / 4),
  }));

const parcel: PackingParcel = {
  boxName: 'Foam',
  carrier: 'Night Post',
  inside,
  standing: standCups(inside, [{ name: 'cup', lengthMm: 90, widthMm: 90, heightMm: 60, count: 6 }]),
  pack: {
    name: 'Heat pack',
    effect: 'warms',
    count: 1,
    place: { ok: true, freeMm: 100 },
    startAt: '15:00',
    warmUpHours: 1,
  },
  isHeld: false,
  transitHours: 28,
  otherDay: null,
  weather: [{ role: 'origin', place: 'Home', source: 'a service', read: 'read today' }],
  limits,
  curves: [
    { scenario: 'forecast', points: points(0) },
    { scenario: 'colder', points: points(-3) },
    { scenario: 'warmer', points: points(3) },
    { scenario: 'late', points: points(-1) },
  ],
  hoursBelowSafe: 0,
  hoursAboveSafe: 0,
  override: null,
  chosen: 'the owner, today',
};

/** A parcel of three species with everything that a sheet can say. */
function sheet(number: number): PackingSheetData {
  const names = ['Exemplum minor', 'Exemplum maior', 'Exemplum volans'].map((scientificName) => ({
    scientificName,
    commonName: 'example isopod',
  }));
  return {
    orderNumber: String(number),
    orderUrl: `https://bench.example.org/orders/${number}`,
    dispatchOn: '2026-11-30',
    dispatchBy: '16:00',
    customerName: 'Carla Customer',
    addressLines: ['2 Example Road', '12345 Exampletown'],
    note: '',
    picks: names.map((name, index) => ({
      ...name,
      cultureCode: `EX-${100 * number + index}`,
      place: `Rack A, shelf ${index}`,
      line: 'dusk',
      groups: 2,
      perGroup: { adults: 10, juveniles: 2, extras: 2 },
      cups: 2,
      cupLabel: `${name.scientificName}, 10 + 2`,
      note: '',
    })),
    species: names.map((name) => ({ ...name, limits, cautions: ['Wash your hands.'] })),
    overrides: [],
    parcel,
    cups: names.map((name) => ({
      ...name,
      count: 2,
      cupName: 'Round cup',
      animals: 28,
      ventilation: note('Pin holes in the lid.'),
      padding: note('Moist moss up to the lid.'),
    })),
    rules: [],
    weight: parcelWeight([{ what: 'box', count: 1, eachG: 180 }]),
    customs: null,
  };
}

const sheets = (count: number) => Array.from({ length: count }, (_each, index) => sheet(index + 1));
const jobOf = (count: number): PrintJob => ({ kind: 'packing', orders: sheets(count), options, bench: null });

/** How long a print takes in its thread, and the longest that this thread was kept from other work meanwhile. */
async function timed(count: number) {
  let worst = 0;
  let last = performance.now();
  const beat = setInterval(() => {
    worst = Math.max(worst, performance.now() - last - 5);
    last = performance.now();
  }, 5);
  const start = performance.now();
  const { file, outcome } = startPrinting(jobOf(count));
  let bytes = 0;
  for await (const chunk of file) bytes += (chunk as Buffer).length;
  await outcome;
  clearInterval(beat);
  return { took: performance.now() - start, worst, bytes };
}

/** Megabytes that live after so many orders of a print, what was garbage apart. */
async function livingMb(count: number): Promise<number> {
  setFlagsFromString('--expose-gc');
  const collect = runInNewContext('gc') as () => void;
  const orders = sheets(count);
  let living = 0;
  const last = orders.at(-1);
  const picks = last?.picks ?? [];
  // asked for when the last order is set: most of the print has been written by then
  if (last)
    Object.defineProperty(last, 'picks', {
      get: () => {
        collect();
        living = process.memoryUsage().heapUsed;
        return picks;
      },
    });
  await writePackingSheets(orders, options, null, () => undefined);
  return living / 1e6;
}

/** A packing day of sixty orders on paper. */
export async function sayPrinting() {
  await timed(1);
  const one = await timed(1);
  const sixty = await timed(60);
  console.log(
    `60 packing sheets in a thread: ${ms(sixty.took)}, ${(sixty.took / one.took).toFixed(0)} times one (${ms(one.took)}); ${(sixty.bytes / 1e6).toFixed(1)} MB; other work waited at most ${ms(sixty.worst)}`,
  );
  const [ten, all] = [await livingMb(10), await livingMb(60)];
  console.log(
    `living memory at the end of 10 and of 60 packing sheets: ${ten.toFixed(0)} and ${all.toFixed(0)} MB`,
  );
}
