import { h } from 'preact';
import { optionAsked, optionFields } from '../../shared/parcels/choose-form.ts';
import { TOUCH_C } from '../../shared/parcels/inside.ts';
import { keptCurve } from '../../shared/parcels/kept-curve.ts';
import type { RefusedOption } from '../../shared/parcels/loads.ts';
import { madeOf } from '../../shared/parcels/packing-day.ts';
import type { Judged, Picked } from '../../shared/parcels/packing-day-form.ts';
import { plainPostcode } from '../../shared/parcels/weather-area.ts';
import { formatMass, formatTempRange, formatVolume } from '../../shared/settings/units.ts';
import { emptyForm, type FormState } from '../../views/layout/form-state.ts';
import { formatCount, formatDay } from '../../views/layout/format.ts';
import { ParcelPage, type ParcelPageProps } from '../../views/parcels/page-parcel.tsx';
import { loadWords } from '../../views/parcels/say-packing.ts';
import { numberIn } from '../plumbing/address.ts';
import { type Answer, page } from '../plumbing/answers.ts';
import type { StaffCall } from '../plumbing/call.ts';
import { notFound } from '../plumbing/errors.ts';
import { versionOf } from './choose.ts';
import { type DayToPack, dayToPack, type OrderOnItsWay, pickedOf } from './day-question.ts';
import { type Decision, decisionOn, type Looked, lookAt } from './decide.ts';
import { movementWarnings } from './movement-warnings.ts';
import { cardOf } from './packing-card.ts';
import { listCarriers, openPlaces } from './queries-carriers.ts';
import { choicesMade } from './queries-choices.ts';
import { type ParcelOrder, parcelOrder } from './queries-day.ts';
import { reckoningOf } from './reckoning.ts';

/** Everything about one order's parcel. */
export interface ParcelAtHand {
  day: DayToPack;
  one: OrderOnItsWay;
  looked: Looked | null;
}

export function parcelOrderIn(call: StaffCall): ParcelOrder {
  const order = parcelOrder(call.db, numberIn(call, 'number', 'order'));
  if (!order) throw notFound('order');
  return order;
}

export async function parcelAtHand(call: StaffCall, order: ParcelOrder): Promise<ParcelAtHand> {
  const day = await dayToPack(call, [order], true);
  const one = day.orders[0]!;
  return { day, one, looked: order.state === 'confirmed' ? lookAt(day, one, call) : null };
}

export type CameBack = { look?: Picked; decide?: FormState; hold?: FormState; way?: FormState };

/** What an address or a form asks to look at. */
export function askedOption(from: Record<string, unknown>): Picked | null {
  const { on, box, pack, packs, way } = from;
  const read = optionAsked.safeParse({ on, box, pack, packs, way });
  return read.success ? read.data : null;
}

/** The one that is looked at when nobody asked for another: what is decided, else the best. */
function usualLook({ one, looked }: ParcelAtHand): Picked | null {
  if (one.choice) return pickedOf(one.choice);
  return looked && 'outlook' in looked ? looked.outlook.best : null;
}

const samePicked = (a: Picked, b: Picked) =>
  JSON.stringify(optionFields(a)) === JSON.stringify(optionFields(b));

function lookedAt(
  call: StaffCall,
  { one }: ParcelAtHand,
  decision: Decision,
  judged: Judged,
  form: FormState,
): ParcelPageProps['looked'] {
  const { picked, curves, why, never } = decision;
  const { order, choice } = one;
  const isLater = order.dispatchOn !== null && picked.dispatchOn > order.dispatchOn;
  return {
    words: `${loadWords(picked)}, leaving on ${formatDay(picked.dispatchOn, call.business.locale, 'weekday')}.`,
    fields: optionFields(picked),
    scenarios: curves.map((curve) => ({ ...curve, curve: keptCurve(curve) })),
    limits: judged.limits,
    why,
    never,
    isDecided: choice !== null && samePicked(pickedOf(choice), picked),
    mayTell: isLater && order.email !== '' && call.config.mail !== null ? order.email : null,
    form,
  };
}

/** A refused option can be looked at where its trip has a forecast and its box and packs are there. */
function linked(judged: Judged, refused: RefusedOption): Picked | null {
  const { box, pack, packs, dispatchOn, way } = refused;
  if (box === null || dispatchOn === null || way === null) return null;
  const picked = { box, pack, packs, dispatchOn, way };
  const made = madeOf(judged, picked);
  return made && !('why' in made.trip.air) ? picked : null;
}

/** The species that set a limit are named where there are several. */
function limitWords({ one, looked }: ParcelAtHand, { business }: StaffCall): string {
  if (!looked) return '';
  if ('why' in looked) return looked.why;
  const { safeLowC, safeHighC } = looked.judged.limits;
  const range = formatTempRange(safeLowC, safeHighC, business.units, business.locale);
  const cold = one.lines.find((line) => line.safeLowC >= safeLowC - TOUCH_C)?.scientificName;
  const warm = one.lines.find((line) => line.safeHighC <= safeHighC + TOUCH_C)?.scientificName;
  const kinds = new Set(one.lines.map(({ speciesId }) => speciesId)).size;
  if (kinds < 2) return range;
  return cold === warm
    ? `${range}, as ${cold} sets both`
    : `${range}: not colder for ${cold}, not warmer for ${warm}`;
}

function contentsWords({ one, day }: ParcelAtHand, { business }: StaffCall): string {
  const { cups, volumeL } = one.contents;
  const mass = formatMass(day.habits.cupG, business.units, business.locale);
  return `${formatCount(cups, 'cup')}, taken as ${mass} each with the filling, ${formatVolume(volumeL, business.units, business.locale)} together`;
}

function areaWords({ country, postcode }: ParcelOrder): string {
  const start = plainPostcode(postcode).slice(0, 2);
  return start === '' ? `all of ${country}` : `postcodes in ${country} that begin with ${start}`;
}

export function parcelPage(call: StaffCall, at: ParcelAtHand, back: CameBack = {}): ParcelPageProps {
  const { one, looked, day } = at;
  const { order, choice } = one;
  const outlook = looked && 'outlook' in looked ? looked.outlook : undefined;
  const judged = looked && 'judged' in looked ? looked.judged : null;
  const wanted = back.look ?? askedOption(call.query) ?? usualLook(at);
  const decision = judged && wanted ? decisionOn(day, one, judged, wanted) : null;
  const route = day.question.routes[0];
  const version = versionOf(order, choice?.id ?? null);
  return {
    furniture: call.furniture,
    units: call.business.units,
    currency: call.business.currency,
    timeZone: call.business.timeZone,
    now: call.clock.now(),
    staleHours: day.habits.staleHours,
    mayDecide: call.who.role === 'owner',
    state: order.state,
    card: cardOf(one, outlook, call.business, movementWarnings(call, [order]).get(order.id) ?? []),
    version,
    places: one.places,
    carrierName: one.carrier?.name ?? null,
    placeBy: one.placeBy,
    limits: judged?.limits ?? null,
    limitWords: limitWords(at, call),
    contentsWords: contentsWords(at, call),
    reckoning:
      decision && judged ? reckoningOf(decision, one.contents, judged.limits, call.business.units) : null,
    choice,
    history: choicesMade(call.db, order.id),
    looked: decision && judged ? lookedAt(call, at, decision, judged, back.decide ?? emptyForm) : null,
    options: judged && {
      options: judged.options,
      refused: judged.refused.map((one_) => ({ ...one_, link: linked(judged, one_) })),
      closed: route?.closed ?? [],
    },
    notBefore: order.notBefore,
    email: order.email,
    mayTell: order.email !== '' && call.config.mail !== null,
    holdForm: back.hold ?? { ...emptyForm, id: 'hold' },
    wayForm: back.way ?? wayOf(order),
    carriers: listCarriers(call.db).filter(({ retiredAt }) => retiredAt === null),
    weatherPlaces: openPlaces(call.db),
    areaWords: areaWords(order),
    today: call.today,
  };
}

const wayOf = ({ placeId, carrierId }: ParcelOrder): FormState => ({
  values: { place: placeId ?? '', carrier: carrierId ?? '' },
  errors: {},
  id: 'way',
});

export async function showParcel(call: StaffCall): Promise<Answer> {
  const at = await parcelAtHand(call, parcelOrderIn(call));
  return page(h(ParcelPage, parcelPage(call, at)));
}
