import { hoursBefore } from '../../shared/documents/packing-order.ts';
import { type PlaceForPack, placeForPack } from '../../shared/documents/place-for-pack.ts';
import { type CupsOfSize, type Standing, standCups } from '../../shared/documents/stand-cups.ts';
import type { ParcelChoice } from '../../shared/parcels/choice.ts';
import { dayInZone } from '../../shared/zone-day.ts';
import type {
  PackingPack,
  PackingParcel,
  PackingWeather,
} from '../../views/documents/packing-parcel-data.ts';
import type { PackingOverride } from '../../views/documents/packing-sheet-data.ts';
import { formatCount, formatMoment } from '../../views/layout/format.ts';
import { readPack } from '../parcels/queries-stock.ts';
import type { Db } from '../plumbing/open-database.ts';
import type { CupsOfSpecies } from './assemble-cups.ts';
import { readPackingHabits } from './queries-packing.ts';

export type ParcelContext = { timeZone: string; locale: string; now: number };

/** How the cups stand in the box; null where the size of some is not known. */
function standingOf(choice: ParcelChoice, cups: readonly CupsOfSpecies[]): Standing | null {
  const sizes: CupsOfSize[] = [];
  for (const { cup, count } of cups) {
    if (!cup) return null;
    sizes.push({ ...cup, count });
  }
  return standCups(choice.box, sizes);
}

/** When a heat pack is started so that it is warm when the parcel leaves. */
function startOf({ dispatchBy }: ParcelChoice, warmUpHours: number): string | null {
  if (warmUpHours <= 0) return null;
  const before = `${warmUpHours} h before the parcel leaves`;
  if (dispatchBy === null) return before;
  const { time, daysBefore } = hoursBefore(dispatchBy, warmUpHours);
  const day = daysBefore === 0 ? '' : daysBefore === 1 ? ' the day before' : ` ${daysBefore} days before`;
  return `${time}${day}, ${before}`;
}

function packOf(db: Db, choice: ParcelChoice, standing: Standing | null): PackingPack | null {
  const { pack, packs: count, box } = choice;
  if (!pack || count === 0) return null;
  const stored = readPack(db, pack.id);
  const { roomForPackMm } = readPackingHabits(db);
  const place: PlaceForPack = placeForPack(
    box,
    {
      effect: pack.effect,
      count,
      smallestBoxL: stored?.smallestBoxL ?? 0,
      mostInBox: stored?.mostInBox ?? count,
    },
    standing,
    roomForPackMm,
  );
  const warmUpHours = stored?.kind === 'heat' ? (stored.warmUpHours ?? 0) : 0;
  return {
    name: pack.name,
    effect: pack.effect,
    count,
    place,
    startAt: startOf(choice, warmUpHours),
    warmUpHours,
  };
}

const hourMs = 3_600_000;

/** How old something is, in words. */
function ageWords(ms: number): string {
  const hours = Math.max(0, Math.round(ms / hourMs));
  if (hours < 1) return 'less than an hour';
  return hours < 48 ? formatCount(hours, 'hour') : formatCount(Math.round(hours / 24), 'day');
}

function weatherOf({ places }: ParcelChoice, { timeZone, locale, now }: ParcelContext): PackingWeather[] {
  return places.map(({ role, name, source, readAt }) => ({
    role,
    place: name,
    source,
    read:
      readAt === null
        ? null
        : `read ${formatMoment(readAt, timeZone, locale)}, ${ageWords(now - readAt)} before this print`,
  }));
}

function overrideOf(choice: ParcelChoice, { timeZone }: ParcelContext): PackingOverride | null {
  if (!choice.isOverride) return null;
  return {
    what:
      choice.why.length === 0
        ? 'This parcel goes out although the calculation would not send it so'
        : `This parcel goes out although the calculation refuses it: ${choice.why.join('; ')}`,
    reason: choice.reason ?? 'none was written',
    byName: choice.chosenBy ?? 'somebody',
    on: dayInZone(choice.chosenAt, timeZone),
  };
}

/** What was chosen for an order's parcel, as its sheet says it; `orderDay` is the order's day of dispatch. */
export function parcelOf(
  db: Db,
  choice: ParcelChoice,
  cups: readonly CupsOfSpecies[],
  orderDay: string | null,
  context: ParcelContext,
): PackingParcel {
  const { box, limits } = choice;
  const standing = standingOf(choice, cups);
  return {
    boxName: box.name,
    carrier: choice.carrier.name,
    inside: { lengthMm: box.lengthMm, widthMm: box.widthMm, heightMm: box.heightMm },
    standing,
    pack: packOf(db, choice, standing),
    isHeld: choice.isHeld,
    transitHours: choice.transitHours,
    otherDay: choice.dispatchOn === orderDay ? null : choice.dispatchOn,
    weather: weatherOf(choice, context),
    limits: { safeLowC: limits.safeLowC, safeHighC: limits.safeHighC },
    curves: choice.curves,
    hoursBelowSafe: choice.hoursBelowSafe,
    hoursAboveSafe: choice.hoursAboveSafe,
    override: overrideOf(choice, context),
    chosen: `${choice.chosenBy ?? 'somebody'}, ${formatMoment(choice.chosenAt, context.timeZone, context.locale)}`,
  };
}
