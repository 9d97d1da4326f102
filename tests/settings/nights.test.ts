import { desc } from 'drizzle-orm';
import { describe, expect, it } from 'vitest';
import { readConfig } from '../../server/config.ts';
import { makeSessions } from '../../server/plumbing/sessions.ts';
import { business, climateReadings, diary } from '../../server/schema/tables.ts';
import { firstWeekdayOf, weekdaysFrom, weekStart } from '../../shared/settings/week.ts';
import { makeCulture, makePlace, makeSpecies } from '../support/stock.ts';
import { cast, testApp } from '../support/test-app.ts';
import { Visitor } from '../support/visitor.ts';

/**
 * The nights on which clocks are put on and back: Directive 2000/84/EC for Berlin (01:00 UTC on the last Sundays of
 * March and October), US Code title 15, section 260a for New York (02:00 on the second Sunday of March and the first of
 * November). In UTC, with what clocks show there and the day it is.
 */
const nights = [
  ['Europe/Berlin', '2027-03-28T00:30Z', '28 Mar 2027, 01:30', '2027-03-28'],
  ['Europe/Berlin', '2027-03-28T01:30Z', '28 Mar 2027, 03:30', '2027-03-28'],
  ['Europe/Berlin', '2027-03-28T21:30Z', '28 Mar 2027, 23:30', '2027-03-28'],
  ['Europe/Berlin', '2027-10-31T00:30Z', '31 Oct 2027, 02:30', '2027-10-31'],
  ['Europe/Berlin', '2027-10-31T01:30Z', '31 Oct 2027, 02:30', '2027-10-31'],
  ['Europe/Berlin', '2027-10-31T22:30Z', '31 Oct 2027, 23:30', '2027-10-31'],
  ['Europe/Berlin', '2027-10-31T23:30Z', '1 Nov 2027, 00:30', '2027-11-01'],
  ['America/New_York', '2027-03-14T06:30Z', '14 Mar 2027, 01:30', '2027-03-14'],
  ['America/New_York', '2027-03-14T07:30Z', '14 Mar 2027, 03:30', '2027-03-14'],
  ['America/New_York', '2027-03-15T03:30Z', '14 Mar 2027, 23:30', '2027-03-14'],
  ['America/New_York', '2027-11-07T05:30Z', '7 Nov 2027, 01:30', '2027-11-07'],
  ['America/New_York', '2027-11-07T06:30Z', '7 Nov 2027, 01:30', '2027-11-07'],
  ['America/New_York', '2027-11-07T07:30Z', '7 Nov 2027, 02:30', '2027-11-07'],
  ['America/New_York', '2027-11-08T04:30Z', '7 Nov 2027, 23:30', '2027-11-07'],
] as const;

/** What somebody types afterwards, and the instant that is: of an hour shown twice the first, of none the next. */
const typedTimes = [
  ['Europe/Berlin', '2027-03-28', '02:30', '2027-03-28T01:30Z', '28 Mar 2027, 03:30'],
  ['Europe/Berlin', '2027-10-31', '02:30', '2027-10-31T00:30Z', '31 Oct 2027, 02:30'],
  ['Europe/Berlin', '2027-10-31', '03:30', '2027-10-31T02:30Z', '31 Oct 2027, 03:30'],
  ['America/New_York', '2027-03-14', '02:30', '2027-03-14T07:30Z', '14 Mar 2027, 03:30'],
  ['America/New_York', '2027-11-07', '01:30', '2027-11-07T05:30Z', '7 Nov 2027, 01:30'],
  ['America/New_York', '2027-11-07', '02:30', '2027-11-07T07:30Z', '7 Nov 2027, 02:30'],
] as const;

async function benchIn(timeZone: string) {
  const t = await testApp();
  t.db.update(business).set({ timeZone }).run();
  const place = makePlace(t.db, { kind: 'room', name: 'Cellar' });
  const species = makeSpecies(t.db);
  const sessions = makeSessions(t.db, t.clock, readConfig({}));
  /** A helper who signs in then: the nights are half a year apart. */
  const helperAt = async (utc: string) => {
    t.clock.at = Date.parse(utc);
    return new Visitor(t.app, await sessions.begin(cast.helper.id, 'test'));
  };
  return { ...t, place, culture: makeCulture(t.db, { speciesId: species.id, placeId: place.id }), helperAt };
}

const newest = ({ db }: Awaited<ReturnType<typeof benchIn>>) => ({
  entry: db.select().from(diary).orderBy(desc(diary.id)).limit(1).get(),
  readAt: db.select().from(climateReadings).orderBy(desc(climateReadings.id)).limit(1).get()?.at,
});

describe.each(['Europe/Berlin', 'America/New_York'])('on the nights on which clocks change in %s', (zone) => {
  it('what is written is of the day and the time that clocks show there', { timeout: 30_000 }, async () => {
    const t = await benchIn(zone);
    for (const [, utc, shown, onDay] of nights.filter(([timeZone]) => timeZone === zone)) {
      const helper = await t.helperAt(utc);
      await helper.post(`/cultures/${t.culture.code}/all-well`);
      await helper.post(`/climate/${t.place.id}/readings`, { temp: 21, humidity: 60 });
      expect(newest(t)).toMatchObject({ entry: { onDay, madeAt: Date.parse(utc) }, readAt: Date.parse(utc) });
      expect((await helper.get(`/climate/${t.place.id}`)).text).toContain(shown);
      expect((await helper.get('/round')).text).toContain(`datetime="${onDay}"`);
    }
  });

  it('what is typed afterwards is an hour that was', { timeout: 30_000 }, async () => {
    const t = await benchIn(zone);
    for (const [, onDay, time, utc, shown] of typedTimes.filter(([timeZone]) => timeZone === zone)) {
      const helper = await t.helperAt(`${onDay}T20:00Z`);
      await helper.post(`/climate/${t.place.id}/readings`, { temp: 21, humidity: 60, onDay, time });
      expect([onDay, time, newest(t).readAt]).toEqual([onDay, time, Date.parse(utc)]);
      expect((await helper.get(`/climate/${t.place.id}`)).text).toContain(shown);
    }
  });
});

describe('weeks', () => {
  // Unicode CLDR, supplemental data, weekData: the first day of the week by territory.
  it('begin as they do where the business is', () => {
    expect(['de-DE', 'en-GB', 'en-US', 'pt-BR', 'es-ES'].map(firstWeekdayOf)).toEqual([1, 1, 7, 7, 1]);
    expect(weekStart('2026-11-25', 1)).toBe('2026-11-23');
    expect(weekStart('2026-11-25', 7)).toBe('2026-11-22');
    expect(weekStart('2026-11-22', 7)).toBe('2026-11-22');
    expect(weekdaysFrom(7)).toEqual([7, 1, 2, 3, 4, 5, 6]);
  });

  it('of substrate and carriers follow it', async () => {
    const t = await testApp();
    const endOfWeek = async () =>
      /planned until (\w+,? \w+ \w+)/.exec((await t.owner.get('/substrate')).text)?.[1];
    const firstChoice = async () =>
      /name="collectsOn"[^>]*value="(\d)"/.exec((await t.owner.get('/parcels/carriers/new')).text)?.[1];
    expect([await endOfWeek(), await firstChoice()]).toEqual(['Sun 29 Nov', '1']);
    t.db.update(business).set({ locale: 'en-US' }).run();
    expect([await endOfWeek(), await firstChoice()]).toEqual(['Sat, Nov 28', '7']);
  });
});
