import { h } from 'preact';
import { chooseForm, holdForm, wayForm } from '../../shared/parcels/choose-form.ts';
import type { Picked } from '../../shared/parcels/packing-day-form.ts';
import { plainPostcode } from '../../shared/parcels/weather-area.ts';
import { formatDay } from '../../views/layout/format.ts';
import { ParcelPage } from '../../views/parcels/page-parcel.tsx';
import { type Answer, page, redirect, wrongForm } from '../plumbing/answers.ts';
import type { FormState, StaffCall } from '../plumbing/call.ts';
import { Refusal } from '../plumbing/errors.ts';
import { readForm, withErrors } from '../plumbing/forms.ts';
import { byOf, choose, hold, letGo, takeBack } from './choose.ts';
import { lastDay } from './day-question.ts';
import { decisionOn, keptDecision } from './decide.ts';
import { askedOption, type ParcelAtHand, parcelAtHand, parcelOrderIn, parcelPage } from './parcel.ts';
import { openPlaces, readCarrier, saveArea, saveOrderParcel } from './queries-carriers.ts';
import type { ParcelOrder } from './queries-day.ts';

const pathOf = (number: number) => `/parcels/orders/${number}`;
const overtakenWords =
  'Somebody decided or changed something meanwhile, and nothing of yours was written. This is how it stands now.';
const toldWords = (told: boolean) => (told ? ' A mail tells the customer in a minute.' : '');

/** The page again, as things stand now, with what was typed. */
async function again(
  call: StaffCall,
  look: Picked | null,
  decide: FormState,
  status: 409 | 422,
): Promise<Answer> {
  const at = await parcelAtHand(call, parcelOrderIn(call));
  const props = parcelPage(call, at, { ...(look && { look }), decide });
  const node = h(ParcelPage, props);
  return status === 409 ? page(node, 409) : wrongForm(node);
}

const notOffered = () =>
  new Refusal(
    409,
    'Not to be had any more',
    'This way of sending it is not there any more: the day is over, the box is used up, or the forecast is gone. Look at the parcel again.',
  );

/** The option a form names, judged anew: never by what the form says of it. */
function judgedOption(at: ParcelAtHand, picked: Picked | null) {
  const { day, one, looked } = at;
  const judged = looked && 'judged' in looked ? looked.judged : null;
  const decision = judged && picked ? decisionOn(day, one, judged, picked) : null;
  if (!judged || !picked || !decision) throw notOffered();
  return { judged, picked, decision };
}

/** Why a decision is not taken as it came; null where it may be written. */
function faultOf(
  why: readonly string[],
  never: string | null,
  reason: string,
): Record<string, string> | null {
  if (never !== null)
    return { '': `It is ${never}: nobody may set that aside. Choose another pack, or none.` };
  if (why.length > 0 && reason.length < 3)
    return { reason: 'Write why, in a few words. It is kept and printed.' };
  return null;
}

export async function chooseParcel(call: StaffCall): Promise<Answer> {
  const order = parcelOrderIn(call);
  const read = readForm(chooseForm, call.body);
  const asked = askedOption(call.body);
  if (!read.ok) return again(call, asked, read.form, 422);
  const at = await parcelAtHand(call, order);
  const { judged, picked, decision } = judgedOption(at, asked);
  const { version, reason } = read.data;
  const fault = faultOf(decision.why, decision.never, reason);
  if (fault) return again(call, picked, withErrors(read.form, fault), 422);
  const kept = keptDecision(call.db, at.one, judged, decision);
  if (!kept) throw notOffered();
  const tell = read.data.tell === 'yes' && call.config.mail !== null;
  const choosing = {
    number: order.number,
    version,
    reason: decision.why.length > 0 ? reason : null,
    batch: null,
    tell,
  };
  const outcome = call.once((tx) => choose(tx, kept, choosing, byOf(call)));
  if (!outcome.done) {
    const words = outcome.why === 'gone' ? `By now ${outcome.words}.` : overtakenWords;
    return again(call, picked, withErrors(read.form, { '': words }), 409);
  }
  return redirect(call.body.from === 'day' ? '/parcels/packing' : pathOf(order.number), {
    text: `Order ${order.number} leaves on ${formatDay(kept.dispatchOn, call.business.locale, 'weekday')}.${toldWords(outcome.told)}`,
    tone: 'plain',
    undo: {
      action: `${pathOf(order.number)}/take-back`,
      label: 'Undo',
      fields: { choice: outcome.id, ...(call.body.from === 'day' && { from: 'day' }) },
    },
  });
}

export function takeBackChoice(call: StaffCall): Answer {
  const { number } = parcelOrderIn(call);
  const id = /^[1-9]\d{0,14}$/.test(String(call.body.choice)) ? Number(call.body.choice) : 0;
  const done = call.once((tx) => takeBack(tx, number, id, byOf(call)));
  return redirect(
    call.body.from === 'day' ? '/parcels/packing' : pathOf(number),
    done
      ? `What was decided for order ${number} is taken back.`
      : { text: `Order ${number} has changed since; nothing was taken back.`, tone: 'needs-you' },
  );
}

export async function holdParcel(call: StaffCall): Promise<Answer> {
  const order = parcelOrderIn(call);
  const read = readForm(holdForm, call.body);
  const wrong = async (form: FormState) => {
    const at = await parcelAtHand(call, order);
    return wrongForm(h(ParcelPage, parcelPage(call, at, { hold: { ...form, id: 'hold' } })));
  };
  if (!read.ok) return wrong(withErrors(read.form, { until: 'Choose a day.' }));
  const { version, until } = read.data;
  if (until <= call.today) return wrong(withErrors(read.form, { until: 'Choose a day that is to come.' }));
  if (until > `${Number(call.today.slice(0, 4)) + 1}${call.today.slice(4)}`)
    return wrong(withErrors(read.form, { until: 'That is more than a year ahead.' }));
  const tell = read.data.tell === 'yes' && call.config.mail !== null;
  const done = call.once((tx) => hold(tx, { number: order.number, version, until, tell }, byOf(call)));
  if (!done) return again(call, null, { values: {}, errors: { '': overtakenWords } }, 409);
  const far = until > lastDay(call.today) ? ' It is worked out once its day comes near.' : '';
  return redirect(pathOf(order.number), {
    text: `Order ${order.number} waits until ${formatDay(until, call.business.locale, 'weekday')}.${toldWords(done.told)}${far}`,
    tone: 'plain',
    undo: { action: `${pathOf(order.number)}/let-go`, label: 'It need not wait' },
  });
}

export function letParcelGo(call: StaffCall): Answer {
  const { number } = parcelOrderIn(call);
  call.once((tx) => letGo(tx, number, byOf(call)));
  return redirect(pathOf(number), `Order ${number} need not wait any longer; its day is open again.`);
}

function areaIn({ country, postcode }: ParcelOrder) {
  return { country, postcodeStart: plainPostcode(postcode).slice(0, 2) };
}

export async function changeWay(call: StaffCall): Promise<Answer> {
  const order = parcelOrderIn(call);
  const read = readForm(wayForm, call.body);
  const errors: Record<string, string> = {};
  const { place, carrier, also } = read.ok ? read.data : {};
  if (place !== undefined && !openPlaces(call.db).some(({ id }) => id === place))
    errors.place = 'Choose one of the list.';
  const named = carrier === undefined ? undefined : readCarrier(call.db, carrier);
  if (carrier !== undefined && (!named || named.retiredAt !== null))
    errors.carrier = 'Choose one of the list.';
  if (also === 'yes' && place === undefined) errors.place = 'Choose the place first.';
  if (also === 'yes' && !/^[A-Z]{2}$/.test(order.country)) errors.also = 'The customer has no country.';
  if (!read.ok || Object.keys(errors).length > 0) {
    const at = await parcelAtHand(call, order);
    const form = { ...withErrors(read.form, errors), id: 'way' };
    return wrongForm(h(ParcelPage, parcelPage(call, at, { way: form })));
  }
  const by = byOf(call);
  call.once((tx) => {
    const isForAll = also === 'yes' && place !== undefined;
    saveOrderParcel(
      tx,
      order.id,
      { placeId: isForAll ? null : (place ?? null), carrierId: carrier ?? null },
      by,
    );
    if (isForAll) saveArea(tx, { ...areaIn(order), placeId: place, madeAt: by.now });
  });
  return redirect(pathOf(order.number), `The way of order ${order.number} is saved.`);
}
