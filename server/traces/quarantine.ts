import { type QuarantineForm, quarantineForm, undoForm } from '../../shared/traces/form.ts';
import { dayInZone } from '../../shared/zone-day.ts';
import { formatCount, formatDay } from '../../views/layout/format.ts';
import { dayWriter, traceHref, troubleSeen, wayWords } from '../../views/traces/say.ts';
import { refreshEstimate } from '../counts/queries-estimate.ts';
import { workOutAnew } from '../counts/queries-outdated.ts';
import { type Culture, loadCulture } from '../cultures/queries.ts';
import { appendEntry, withdrawEntry } from '../cultures/queries-diary.ts';
import { release } from '../orders/queries-release.ts';
import { type Answer, type Notice, redirect, wrongForm } from '../plumbing/answers.ts';
import { attempt } from '../plumbing/attempt.ts';
import type { StaffCall } from '../plumbing/call.ts';
import { Refusal } from '../plumbing/errors.ts';
import { readForm, withErrors } from '../plumbing/forms.ts';
import type { Db } from '../plumbing/open-database.ts';
import { type Asked, readAsked } from './ask.ts';
import { type Looked, look, type TracedRow } from './look.ts';
import { tracePage } from './page.ts';
import { openReservations, quarantinedInOneStep } from './queries.ts';

type By = { personId: string; now: number; today: string; locale: string };

/** What came of the step, as plain data: the same form sent again is answered with it. */
export type Quarantined = {
  at: number;
  codes: string[];
  already: number;
  released: number;
  /** Orders that still wait for animals of these cultures. */
  waiting: { number: number; groups: number }[];
};

/** So many estimates a person waits for; more are left to the threads, which begin within seconds. */
const atOnce = 100;

const sentence = (words: string) => `${words.charAt(0).toUpperCase()}${words.slice(1)}.`;

/** Why a culture is put in quarantine, for its diary. */
function noteFor(culture: Culture, asked: Asked, row: TracedRow, by: By, words: string): string {
  const day = dayWriter('', by.locale);
  const seen = `${troubleSeen[asked.what]} on ${formatDay(asked.seen, by.locale)}`;
  const why =
    row.id === culture.id
      ? sentence(`${troubleSeen[asked.what]} here on ${formatDay(asked.seen, by.locale)}`)
      : `Contact with ${culture.code}, where ${seen}: ${wayWords(row.way, day)}.`;
  return [why.slice(0, 3400), words].filter(Boolean).join('\n');
}

/** The rows that can be ticked, by the culture's id. A culture on both sides is told by how it was reached. */
function tickable({ own, downstream, upstream }: Looked, asked: Asked): Map<number, TracedRow> {
  const rows = [...upstream, ...downstream, { ...own, onDay: asked.since, way: [] }];
  return new Map(rows.map((row) => [row.id, row]));
}

/** Reached, but too many to be listed and ticked one by one. */
function restOf({ downstream }: Looked, { rest, listed }: QuarantineForm): number[] {
  if (rest !== 'yes') return [];
  const shown = new Set(listed);
  return downstream.filter(({ id }) => !shown.has(id)).map(({ id }) => id);
}

function refreshAll(tx: Db, ids: readonly number[], { today, now }: By) {
  if (ids.length > atOnce) workOutAnew(tx, ids, today, now);
  else for (const id of ids) refreshEstimate(tx, id, today, now);
}

function groupsByOrder(found: ReturnType<typeof openReservations>): Quarantined['waiting'] {
  const orders = new Map<number, number>();
  for (const { number, groups } of found) orders.set(number, (orders.get(number) ?? 0) + groups);
  return [...orders].map(([number, groups]) => ({ number, groups }));
}

/**
 * Puts the chosen cultures of a trace in quarantine, each with the reason in its diary, and sets their reservations
 * free where that is asked for. Those that are in quarantine or retired already are left as they are. Call it inside
 * a transaction.
 */
export function quarantineChosen(
  tx: Db,
  culture: Culture,
  asked: Asked,
  form: QuarantineForm,
  by: By,
): Quarantined | { fault: string } {
  const looked = look(tx, culture, asked);
  if ('fault' in looked) return looked;
  const rows = tickable(looked, asked);
  const ids = [...new Set([...form.chosen, ...restOf(looked, form)])];
  const chosen = ids.map((id) => rows.get(id));
  if (!chosen.every((row) => row !== undefined))
    return { fault: 'Some of the ticked cultures are not in this list any more. Look at it again.' };
  const put = chosen.filter(({ status }) => status === 'active');
  for (const row of put)
    appendEntry(tx, {
      cultureId: row.id,
      kind: 'quarantine',
      onDay: by.today,
      otherCultureId: row.id === culture.id ? null : culture.id,
      note: noteFor(culture, asked, row, by, form.words),
      via: 'page',
      madeBy: by.personId,
      madeAt: by.now,
    });
  const reserved = openReservations(tx, ids);
  const toRelease = form.release === 'yes' ? reserved : [];
  for (const { number, id } of toRelease) release(tx, number, id, by);
  refreshAll(
    tx,
    put.map(({ id }) => id),
    by,
  );
  return {
    at: by.now,
    codes: put.map(({ code }) => code),
    already: chosen.length - put.length,
    released: toRelease.reduce((sum, { groups }) => sum + groups, 0),
    waiting: form.release === 'yes' ? [] : groupsByOrder(reserved),
  };
}

const mostNamed = 8;

function named(codes: readonly string[]): string {
  const rest = codes.length - mostNamed;
  return rest > 0 ? `${codes.slice(0, mostNamed).join(', ')} and ${rest} more` : codes.join(', ');
}

function noticeOf(code: string, asked: Asked, done: Quarantined): Notice {
  const { codes, already, released, waiting } = done;
  const orders = waiting.map(({ number, groups }) => `order ${number} (${formatCount(groups, 'group')})`);
  const text = [
    codes.length > 0 && `In quarantine now: ${named(codes)}.`,
    already > 0 &&
      `${formatCount(already, 'culture was', 'cultures were')} in quarantine or retired already.`,
    released > 0 && `${formatCount(released, 'reserved group')} set free.`,
    orders.length > 0 && `Animals of them are still promised: ${orders.join(', ')}. Choose others there.`,
  ];
  return {
    text: text.filter(Boolean).join(' '),
    tone: waiting.length > 0 ? 'needs-you' : 'plain',
    links: waiting
      .slice(0, mostNamed)
      .map(({ number }) => ({ href: `/orders/${number}`, label: `Order ${number}` })),
    ...(codes.length > 0 && {
      undo: {
        action: traceHref(code, {}, '/undo'),
        label: 'Undo',
        fields: { at: done.at, freed: released, ...fieldsOf(asked) },
      },
    }),
  };
}

const fieldsOf = ({ what, since, seen, back, sort }: Asked) => ({ what, since, seen, back, sort });
const byOf = (call: StaffCall): By => ({
  personId: call.who.id,
  now: call.clock.now(),
  today: call.today,
  locale: call.business.locale,
});

export function quarantineTraced(call: StaffCall): Answer {
  const loaded = loadCulture(call.db, call.params.code ?? '');
  const { culture } = loaded;
  const { asked, errors } = readAsked(call, culture, call.body);
  const read = readForm(quarantineForm, call.body);
  const chosen = new Set(quarantineForm.shape.chosen.parse(call.body.chosen));
  const again = (wrong: Record<string, string>) =>
    wrongForm(
      tracePage(
        call,
        loaded,
        { asked, errors },
        { quarantine: { form: withErrors(read.form, wrong), chosen } },
      ),
    );
  if (!read.ok || Object.keys(errors).length > 0) return again({});
  if (chosen.size === 0 && read.data.rest !== 'yes') return again({ '': 'Tick at least one culture.' });
  const tried = attempt<Quarantined, string>(call, (tx, stop) => {
    const done = quarantineChosen(tx, culture, asked, read.data, byOf(call));
    return 'fault' in done ? stop(done.fault) : done;
  });
  if ('why' in tried) return again({ '': tried.why });
  return redirect(traceHref(culture.code, fieldsOf(asked)), noticeOf(culture.code, asked, tried.written));
}

/** Takes the quarantines of one step out of the diaries; returns how many still stood. */
export function takeBackStep(
  tx: Db,
  culture: Culture,
  step: { madeAt: number; onDay: string },
  by: By,
): number {
  const found = quarantinedInOneStep(tx, { ...step, becauseOf: culture.id, madeBy: by.personId });
  for (const { id } of found) withdrawEntry(tx, id, { madeBy: by.personId, madeAt: by.now });
  refreshAll(tx, [...new Set(found.map(({ cultureId }) => cultureId))], by);
  return found.length;
}

export function undoQuarantine(call: StaffCall): Answer {
  const { culture } = loadCulture(call.db, call.params.code ?? '');
  const { asked } = readAsked(call, culture, call.body);
  const read = readForm(undoForm, call.body);
  if (!read.ok) throw new Refusal(400, 'This form is not complete', 'Reload the page and try again.');
  const step = { madeAt: read.data.at, onDay: dayInZone(read.data.at, call.business.timeZone) };
  const taken = call.once((tx) => takeBackStep(tx, culture, step, byOf(call)));
  const stay = read.data.freed > 0 ? ' The reservations that were set free stay free.' : '';
  const text =
    taken === 0
      ? 'Nothing of it was left to take back.'
      : `${formatCount(taken, 'culture is', 'cultures are')} out of quarantine again.${stay}`;
  return redirect(traceHref(culture.code, fieldsOf(asked)), text);
}
