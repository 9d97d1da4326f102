import { inPackingOrder } from '../../shared/documents/packing-order.ts';
import type { ParcelChoice } from '../../shared/parcels/choice.ts';
import type { BenchList, BenchMaterial } from '../../views/documents/bench-list.ts';
import type { PackingSheetData } from '../../views/documents/packing-sheet-data.ts';
import { totalsOf } from '../../views/documents/packing-totals.ts';
import { loadOrder } from '../orders/queries.ts';
import { readBox, readPack } from '../parcels/queries-stock.ts';
import type { Db } from '../plumbing/open-database.ts';
import { makeTurns } from '../plumbing/turns.ts';
import type { CupsOfSpecies } from './assemble-cups.ts';
import { type PaperContext, packingSheetOf } from './assemble-packing.ts';
import { walkOf } from './queries-packing.ts';

type Made = { sheet: PackingSheetData; cups: CupsOfSpecies[]; choice: ParcelChoice | null };

/** A thing that is laid out, and when which orders want it started. */
type Counted = { count: number; left: number | null; starts: Map<string, string[]> };

/** Counts of things by name, in the order in which they come up first. */
class Tally {
  private readonly found = new Map<string, Counted>();

  add(name: string, count: number, left: number | null): Counted {
    const known = this.found.get(name) ?? { count: 0, left, starts: new Map<string, string[]>() };
    known.count += count;
    this.found.set(name, known);
    return known;
  }

  list(): BenchMaterial[] {
    return [...this.found].map(([name, { count, left, starts }]) => ({
      name,
      count,
      left,
      start: [...starts].map(([at, numbers]) => startWords(numbers, at)).join(' '),
    }));
  }
}

const startWords = (numbers: readonly string[], at: string) =>
  `${numbers.length === 1 ? 'Order' : 'Orders'} ${numbers.join(', ')}: start at ${at}.`;

/** What lies in the stock besides what this choice took out of it already. */
const leftOf = (left: number | null | undefined, taken: number): number | null =>
  left === null || left === undefined ? null : left + taken;

function materials(db: Db, made: readonly Made[]) {
  const [cups, boxes, packs] = [new Tally(), new Tally(), new Tally()];
  for (const { sheet, cups: needed, choice } of made) {
    for (const { cup, count } of needed) cups.add(cup?.name ?? 'size not set', count, null);
    if (!choice) continue;
    const taken = choice.isTaken ? 1 : 0;
    boxes.add(choice.box.name, 1, leftOf(readBox(db, choice.box.id)?.numberLeft, taken));
    if (!choice.pack || choice.packs === 0) continue;
    const left = leftOf(readPack(db, choice.pack.id)?.numberLeft, taken * choice.packs);
    const { starts } = packs.add(choice.pack.name, choice.packs, left);
    const at = sheet.parcel?.pack?.startAt;
    if (at) starts.set(at, [...(starts.get(at) ?? []), sheet.orderNumber]);
  }
  return { cups: cups.list(), boxes: boxes.list(), packs: packs.list() };
}

/** All that is packed on a day, in the order in which it is packed, and what has to lie on the bench for it. */
export async function packingDayOf(
  db: Db,
  day: string,
  numbers: readonly number[],
  context: PaperContext,
): Promise<{ sheets: PackingSheetData[]; bench: BenchList }> {
  const turn = makeTurns();
  const loaded = [];
  for (const number of numbers) {
    // A day of hundreds would keep everybody else’s pages waiting.
    await turn();
    loaded.push(loadOrder(db, number));
  }
  const walks = walkOf(
    db,
    loaded.map(({ order }) => order.id),
  );
  const packed = [];
  for (const one of loaded) {
    await turn();
    const { id, number } = one.order;
    const made = packingSheetOf(db, one, context);
    packed.push({ ...made, number, walk: walks.get(id) ?? null, dispatchBy: made.sheet.dispatchBy });
  }
  const made = inPackingOrder(packed);
  const totals = made.map(({ sheet }) => totalsOf(sheet.picks));
  const bench: BenchList = {
    day,
    ...materials(db, made),
    orders: made.map(({ sheet, choice }, index) => ({
      number: sheet.orderNumber,
      customerName: sheet.customerName,
      country: sheet.country,
      dispatchBy: sheet.dispatchBy,
      box: choice?.box.name ?? '',
      pack: choice?.pack && choice.packs > 0 ? `${choice.packs} × ${choice.pack.name}` : '',
      cups: totals[index]?.cups ?? 0,
      isHeld: choice?.isHeld ?? false,
      hasOverride: (choice?.isOverride ?? false) || sheet.overrides.length > 0,
    })),
    undecided: made.flatMap(({ sheet, choice }) => (choice ? [] : [sheet.orderNumber])),
    totals: {
      orders: made.length,
      cups: totals.reduce((sum, one) => sum + one.cups, 0),
      animals: totals.reduce((sum, one) => sum + one.animals, 0),
    },
  };
  return { sheets: made.map(({ sheet }) => sheet), bench };
}
