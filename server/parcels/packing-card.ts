import { daysBetween } from '../../shared/days.ts';
import type { ParcelChoice } from '../../shared/parcels/choice.ts';
import { optionFields } from '../../shared/parcels/choose-form.ts';
import { CLOSE_C } from '../../shared/parcels/packing-day.ts';
import type { DayOutlook, OrderOutlook } from '../../shared/parcels/packing-day-form.ts';
import { countryName } from '../../shared/settings/countries.ts';
import { exactTemp } from '../../views/climate/say.ts';
import { formatDay, formatMoney } from '../../views/layout/format.ts';
import type { PackingCard } from '../../views/parcels/page-packing-day.tsx';
import { asSentence, type CardStand, loadWords, missingWords } from '../../views/parcels/say-packing.ts';
import { sayBest, sayKept, sayParcel } from '../../views/parcels/say-worked-out.ts';
import type { Business } from '../plumbing/call.ts';
import { versionOf } from './choose.ts';
import type { OrderOnItsWay } from './day-question.ts';

type Reader = Pick<Business, 'units' | 'locale' | 'currency'>;
type Figures = { lowestC: number; highestC: number };

const day = (iso: string, { locale }: Reader) => formatDay(iso, locale, 'weekday');

/** "Inside 14.2 to 21.5 °C whatever the weather does". */
function spanWords({ lowestC, highestC }: Figures, { units, locale }: Reader): string {
  const low = exactTemp(lowestC, units, locale).replace(/\u00a0°[CF]$/, '');
  return `inside ${low} to ${exactTemp(highestC, units, locale)}`;
}

function bestWords({ stand, best, limits }: OrderOutlook, reader: Reader): string {
  if (!best || !limits) return '';
  const load = loadWords(best);
  const cost = best.cost > 0 ? `, ${formatMoney(best.cost, reader.currency, reader.locale)}` : '';
  const close = Math.min(best.lowestC - limits.safeLowC, limits.safeHighC - best.highestC) < CLOSE_C;
  const near = close ? ' That is close to what the animals bear.' : '';
  const until = stand === 'wait' ? 'until' : 'on';
  const first =
    stand === 'wait'
      ? `${until} ${day(best.dispatchOn, reader)}, then`
      : `${until} ${day(best.dispatchOn, reader)}:`;
  return `${first} ${load}${cost}; ${spanWords(best, reader)}, all weathers and a late parcel included.${near}`;
}

function openWords({ stand, best, days }: OrderOutlook, one: OrderOnItsWay, reader: Reader): string {
  if (best) return bestWords({ stand, best, days } as OrderOutlook, reader);
  if (stand === 'later') return `It is written down for ${day(one.order.dispatchOn ?? '', reader)} or later.`;
  if (stand === 'unknown') return 'The forecast does not reach as far as its trip.';
  return days.length === 0 ? '' : `on any of the next ${days.length} days.`;
}

/** Why not on the day before the best, in words. */
function whyWords({ why, days, best, stand }: OrderOutlook, reader: Reader): string | null {
  if (why === null || stand === 'go' || stand === 'careful') return null;
  const first: DayOutlook | undefined =
    days.find(({ kind }) => kind === 'refused' || kind === 'unknown') ?? days.find((one) => one.why !== null);
  if (!first || (best && first.date >= best.dispatchOn)) return asSentence(why);
  return `${day(first.date, reader)}: ${first.why ?? why}.`;
}

function chosenWords(choice: ParcelChoice, order: OrderOnItsWay['order'], reader: Reader): string {
  const load = loadWords({
    box: choice.box.name,
    pack: choice.pack?.name ?? null,
    packs: choice.packs,
    way: choice.isHeld ? 'held' : 'delivered',
  });
  const moved =
    order.dispatchOn === choice.dispatchOn
      ? ''
      : ` The order’s day was changed since${order.dispatchOn ? `, to ${day(order.dispatchOn, reader)}` : ''}.`;
  const override = choice.isOverride ? ` Sent although it was refused: ${choice.reason}` : '';
  const by = choice.dispatchBy ? `, by ${choice.dispatchBy}` : '';
  return `on ${day(choice.dispatchOn, reader)}${by}: ${load}; ${spanWords(choice, reader)}.${moved}${override}`;
}

function standOfCard(one: OrderOnItsWay, outlook: OrderOutlook | undefined): CardStand {
  const { choice, order, missing } = one;
  if (choice) {
    const isMoved = order.dispatchOn !== choice.dispatchOn;
    const isRefused = !choice.isOverride && outlook !== undefined && outlook.chosenWhy !== null;
    return isMoved || isRefused ? 'again' : 'chosen';
  }
  if (missing !== null || !outlook) return 'missing';
  return outlook.stand;
}

const chosenCurve = ({ curves }: ParcelChoice) =>
  curves.find(({ scenario }) => scenario === 'forecast') ?? null;

const shared = (one: OrderOnItsWay, outlook: OrderOutlook | undefined) => ({
  number: one.order.number,
  customerName: one.order.customerName,
  goesTo: [`${one.order.postcode} ${one.order.city}`.trim(), countryName(one.order.country)]
    .filter(Boolean)
    .join(', '),
  contents: one.lines,
  stand: standOfCard(one, outlook),
  days: outlook?.days ?? [],
});

/** Why the best is the best, and what was reckoned with. */
function soOf({ best, whyBest, limits }: OrderOutlook, one: OrderOnItsWay, reader: Reader): string[] {
  if (!best || !whyBest || !limits) return [];
  const { contents } = one;
  const reckoned = { ran: whyBest.ran, contents, limits, units: reader.units };
  return [...sayBest(best, whyBest, reader), ...sayParcel(reckoned, reader.locale)];
}

/** An order as a card of the packing day. */
export function cardOf(
  one: OrderOnItsWay,
  outlook: OrderOutlook | undefined,
  reader: Reader,
  warnings: readonly string[],
): PackingCard {
  const { choice, missing, order, places } = one;
  const base = { ...shared(one, outlook), warnings };
  if (choice) {
    const why = outlook?.chosenWhy ?? null;
    const words = chosenWords(choice, order, reader);
    return {
      ...base,
      words,
      why: why === null || choice.isOverride ? null : `By now it would be refused: ${why}.`,
      missing: null,
      chosenDay: choice.dispatchOn,
      curve: chosenCurve(choice),
      limits: choice.limits,
      finding: `Order ${order.number}: ${words}`,
      so: sayKept(choice.curves, choice.limits, reader),
      take: null,
    };
  }
  const best = missing === null ? (outlook?.best ?? null) : null;
  const words = outlook ? (best ? bestWords(outlook, reader) : openWords(outlook, one, reader)) : '';
  return {
    ...base,
    words,
    why: outlook ? whyWords(outlook, reader) : null,
    missing: missing === null ? null : missingWords(missing, { number: order.number, places }),
    chosenDay: best?.dispatchOn ?? null,
    curve: outlook?.curves.find(({ scenario }) => scenario === 'forecast') ?? null,
    limits: outlook?.limits ?? null,
    finding: `Order ${order.number}: ${words}`,
    so: outlook && best ? soOf(outlook, one, reader) : [],
    take: best ? { ...optionFields(best), version: versionOf(order, null) } : null,
  };
}

/** Orders that want somebody first: those refused or undecided, then by the day they leave. */
export function inTurn(cards: readonly PackingCard[]): PackingCard[] {
  const rank = ({ stand }: PackingCard) => (stand === 'chosen' ? 1 : 0);
  const when = ({ chosenDay }: PackingCard) => chosenDay ?? '9999-12-31';
  return [...cards].sort(
    (a, b) =>
      rank(a) - rank(b) ||
      (when(a) === when(b) ? 0 : daysBetween(when(b), when(a)) < 0 ? -1 : 1) ||
      a.number - b.number,
  );
}
