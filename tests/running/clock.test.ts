import { describe, expect, it, vi } from 'vitest';
import { addressOfOrder, ensureLink, linkByToken } from '../../server/arrivals/queries-links.ts';
import { whenBack } from '../../server/jobs.ts';
import { addMail, dueMail } from '../../server/mails/queries.ts';
import { findPerson } from '../../server/people/queries.ts';
import { addLink, openLink } from '../../server/people/queries-links.ts';
import { beginHalf, halfOf } from '../../server/people/queries-second-factor.ts';
import { startJobs } from '../../server/plumbing/jobs.ts';
import { rememberTime, watchClock } from '../../server/plumbing/watched-clock.ts';
import { importDrafts, mails, sessions } from '../../server/schema/tables.ts';
import { isNightlyDue } from '../../shared/backups/due.ts';
import { addDays, daysBetween } from '../../shared/days.ts';
import { dayInZone } from '../../shared/zone-day.ts';
import { makeCounted } from '../support/counted.ts';
import { makeMail, makeOrder } from '../support/orders.ts';
import { cast, type TestApp, testApp, testNow } from '../support/test-app.ts';

const [minute, hour, day] = [60_000, 3_600_000, 86_400_000];
const token = 't'.repeat(43);

type Door = {
  /** How long it stands open. */
  ms: number;
  make: (t: TestApp) => string;
  isOpen: (t: TestApp, made: string) => boolean | Promise<boolean>;
};

const linkDoor = (purpose: 'invitation' | 'reset', ms: number): Door => ({
  ms,
  make: ({ db }) =>
    addLink(db, {
      token,
      purpose,
      now: testNow,
      ...(purpose === 'reset' ? { personId: cast.helper.id } : { name: 'Pat', role: 'helper' }),
    }),
  isOpen: ({ db, clock }) => openLink(db, purpose, token, clock.now()) !== null,
});

const doors: Record<string, Door> = {
  'a session': {
    ms: 30 * day,
    make: () => '',
    isOpen: async ({ helper }) => (await helper.get('/account')).status === 200,
  },
  'an invitation': linkDoor('invitation', 7 * day),
  'a reset': linkDoor('reset', day),
  'a half sign-in': {
    ms: 10 * minute,
    make(t) {
      const person = findPerson(t.db, cast.helper.id);
      if (person) beginHalf(t.db, token, person, testNow);
      return token;
    },
    isOpen: ({ db, clock }) => halfOf(db, token, clock.now()) !== null,
  },
  'the page of an order': {
    ms: 90 * day,
    make({ db }) {
      const order = makeOrder(db, { dispatchOn: null });
      ensureLink(db, order, { personId: cast.owner.id, now: testNow });
      return addressOfOrder(db, order.id, { base: '', now: testNow })?.slice('/o/'.length) ?? '';
    },
    isOpen: ({ db, clock }, made) => linkByToken(db, made, clock.now()) !== null,
  },
};
const jumps = { 'half an hour': hour / 2, 'a day': day, 'ten years': 3_653 * day };

describe('a clock that goes back', () => {
  it.each(Object.entries(doors))('lets nobody through %s again', async (_name, { ms, make, isOpen }) => {
    // A restart is the same for every jump: for the largest it is asked too.
    for (const jump of Object.values(jumps))
      for (const restarts of jump === jumps['ten years'] ? [false, true] : [false]) {
        const t = await testApp();
        const made = make(t);
        // Whoever is let in lives on: so the session is not asked for before it is over.
        if (ms < 30 * day || ms > 31 * day) expect(await isOpen(t, made)).toBe(true);
        t.clock.at = testNow + ms + 1_000;
        // Nobody comes through it now, but somebody comes.
        if (restarts) rememberTime(t.db, t.clock.now());
        else await t.outsider.get('/sign-in');
        t.clock.at -= jump;
        if (restarts) watchClock({ now: t.clock.now }, t.db, whenBack).now();
        else await t.outsider.get('/sign-in');
        expect(await isOpen(t, made), `${jump / hour} hours back`).toBe(false);
        t.clock.at = testNow + 1_000;
        expect(await isOpen(t, made), `${jump / hour} hours back, then on`).toBe(false);
      }
  });

  it('by little ends nothing that was not over, nor does one that went ahead and back lock anybody out', async () => {
    const t = await testApp();
    t.clock.at += hour;
    expect((await t.helper.get('/account')).status).toBe(200);
    for (const back of [1, hour, day]) {
      t.clock.at -= back;
      expect((await t.helper.get('/account')).status, String(back)).toBe(200);
    }
    t.clock.at += 3_653 * day;
    expect((await t.helper.get('/account')).status).toBe(303);
    t.clock.at = testNow;
    expect((await t.outsider.get('/sign-in')).status).toBe(200);
    addLink(t.db, { token, purpose: 'invitation', name: 'Pat', role: 'helper', now: testNow });
    t.clock.at += day;
    expect((await t.outsider.get(`/invitation?token=${token}`)).status).toBe(200);
  });

  it('far takes up mails at once, and ends sessions that would live for years', async () => {
    const t = await testApp();
    await t.outsider.get('/sign-in');
    addMail(t.db, makeMail({}));
    t.sqlite.exec(`UPDATE mails SET next_try_at = ${testNow + hour}`);
    t.clock.at -= 3_653 * day;
    expect((await t.helper.get('/account')).status).toBe(303);
    expect(dueMail(t.db, t.clock.now())?.id).toBe(t.db.select().from(mails).get()?.id);
    expect(t.db.select().from(sessions).all()).toEqual([]);
  });

  it('stands still while nothing can be written, rather than let somebody in', async () => {
    const { db, sqlite } = await testApp();
    let at = testNow;
    const clock = watchClock({ now: () => at }, db, whenBack);
    clock.now();
    sqlite.pragma('query_only = 1');
    at -= day;
    expect(clock.now()).toBe(testNow);
    sqlite.pragma('query_only = 0');
    expect(clock.now()).toBe(testNow - day);
  });

  it('changes nothing of the order in which a diary was written', async () => {
    const t = await testApp();
    const { code } = makeCounted(t.db);
    const write = (note: string) => t.helper.post(`/cultures/${code}/write`, { kind: 'note', note });
    for (const note of ['first words', 'second words', 'third words']) {
      expect((await write(note)).status).toBe(303);
      t.clock.at -= 20 * minute;
    }
    const { text } = await t.helper.get(`/cultures/${code}`);
    const order = [...text.matchAll(/(first|second|third) words/g)].map(([, which]) => which);
    expect([...new Set(order)]).toEqual(['third', 'second', 'first']);
  });
});

describe('a clock that leaps ahead', () => {
  it('throws nothing away that people wrote, until it has gone on for a day', async () => {
    vi.useFakeTimers();
    try {
      const t = await testApp();
      const file = { fileName: 'a.csv', bytes: Buffer.from('x'), madeBy: cast.owner.id };
      t.db
        .insert(importDrafts)
        .values({ id: 'draft', ...file, madeAt: testNow })
        .run();
      const drafts = () => t.db.select().from(importDrafts).all().length;
      const log = { info: vi.fn(), error: vi.fn() };
      const isSteady = (now: number) => rememberTime(t.db, now);
      const { jobs } = await import('../../server/jobs.ts');
      const stop = startJobs(jobs, { db: t.db, clock: t.clock, log, isSteady });
      const goOn = (ms: number, stepMs = hour) => {
        for (let gone = 0; gone < ms; gone += stepMs) {
          t.clock.at += stepMs;
          vi.advanceTimersByTime(5 * minute);
        }
      };
      t.clock.at += 3_653 * day;
      goOn(hour);
      t.clock.at = testNow + hour;
      goOn(2 * day);
      expect(drafts()).toBe(1);
      goOn(6 * day);
      expect(drafts()).toBe(0);
      stop();
      expect(log.error).not.toHaveBeenCalled();
    } finally {
      vi.useRealTimers();
    }
  });
});

/** Ten years with YEARS=10. */
const years = Number(process.env.YEARS ?? 0);

// Zones, their nights of summer time and the day that Samoa left out: IANA Time Zone Database (from memory).
const zones = [
  'UTC',
  'Europe/Berlin',
  'Europe/London',
  'America/New_York',
  'America/Sao_Paulo',
  'America/St_Johns',
  'Asia/Kathmandu',
  'Asia/Tehran',
  'Australia/Lord_Howe',
  'Pacific/Apia',
  'Pacific/Chatham',
  'Pacific/Kiritimati',
];
const stepMs = years > 0 ? hour : 2 * hour;

/** The nightly backup over a span, as often as it is looked at: the days of the business it was made for. */
function nightsOf(timeZone: string, from: number, until: number): Map<string, number> {
  const nights = new Map<string, number>();
  let lastMadeAt: number | null = from - day;
  for (let now = from; now < until; now += stepMs) {
    if (!isNightlyDue({ now, timeZone, lastMadeAt, lastFailedAt: null })) continue;
    lastMadeAt = now;
    const night = dayInZone(now - 2 * hour, timeZone);
    nights.set(night, (nights.get(night) ?? 0) + 1);
  }
  return nights;
}

describe('each daily job', () => {
  const spans: [number, number][] =
    years > 0
      ? [[Date.UTC(2011, 0, 1, 12), Date.UTC(2011 + years, 0, 1, 12)]]
      : [
          [Date.UTC(2011, 11, 27, 12), Date.UTC(2012, 0, 2, 12)],
          [Date.UTC(2024, 1, 27, 12), Date.UTC(2024, 2, 12, 12)],
        ];
  it.each(zones)(
    'runs once on each day of the business in %s, and on none that is not there',
    (timeZone) => {
      for (const [from, until] of spans) {
        const nights = nightsOf(timeZone, from, until);
        const [first = '', ...rest] = nights.keys();
        const last = rest.at(-1) ?? first;
        const missing = Array.from({ length: daysBetween(first, last) + 1 }, (_, at) =>
          addDays(first, at),
        ).filter((one) => !nights.has(one));
        const isLeftOut = timeZone === 'Pacific/Apia' && from < Date.UTC(2011, 11, 30);
        expect(missing).toEqual(isLeftOut ? ['2011-12-30'] : []);
        expect([...nights.values()].every((times) => times === 1)).toBe(true);
      }
    },
    3_600_000,
  );
});

describe('what is due', () => {
  it('is a day of the calendar, never an instant', async () => {
    const { sqlite } = await testApp();
    const columns = sqlite
      .prepare(
        `SELECT m.name AS "table", c.name, c.type FROM sqlite_schema m, pragma_table_info(m.name) c
         WHERE m.type = 'table' AND m.name NOT LIKE 'sqlite_%'`,
      )
      .all() as { table: string; name: string; type: string }[];
    const days = columns.filter(({ name }) => /_on$|^due|_due/.test(name) && name !== 'is_on');
    expect(days.length).toBeGreaterThan(15);
    expect(days.filter(({ type }) => type !== 'TEXT')).toEqual([]);
  });
});
