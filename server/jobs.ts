import { fromEpochDay } from '../shared/days.ts';
import { dayInZone } from '../shared/zone-day.ts';
import { endLinksOver } from './arrivals/queries-links.ts';
import { thinReadings } from './climate/queries-thinning.ts';
import { forgetOpenPhotos } from './counts/queries-photos.ts';
import { cleanLog, forgetBuyers } from './customers/queries-erase.ts';
import { hurryMails } from './mails/queries.ts';
import { forgetOldWeather, hurryForecasts } from './parcels/queries-weather.ts';
import { forgetLinks } from './people/queries-links.ts';
import { forgetReads } from './people/queries-reads.ts';
import { forgetHalves } from './people/queries-second-factor.ts';
import { forgetEndedSessions } from './people/queries-sessions.ts';
import { forgetOldTries } from './people/queries-tries.ts';
import type { Job } from './plumbing/jobs.ts';
import { forgetFormKeys } from './plumbing/once.ts';
import type { Db } from './plumbing/open-database.ts';
import type { WhenBack } from './plumbing/watched-clock.ts';
import { forgetDrafts } from './records/queries-drafts.ts';
import { readBusiness } from './settings/queries.ts';

const msPerDay = 86_400_000;

/** Names on the invoices of customers who were erased, once the years of keeping are over. */
function forgetInvoiced(db: Db, now: number): number {
  const gone = forgetBuyers(db, dayInZone(now, readBusiness(db).timeZone));
  if (gone > 0) cleanLog(db);
  return gone;
}

/** All the work that nobody asks for, in the order it is done. */
export const jobs: readonly Job[] = [
  { name: 'end sessions', run: forgetEndedSessions },
  { name: 'forget sign-in tries', run: forgetOldTries },
  { name: 'forget half sign-ins', run: forgetHalves },
  { name: 'forget one-time links', run: forgetLinks },
  { name: 'forget what was read', waits: true, run: forgetReads },
  { name: 'forget form keys', waits: true, run: (db, now) => forgetFormKeys(db, now - 30 * msPerDay) },
  { name: 'forget open photos', waits: true, run: (db, now) => forgetOpenPhotos(db, now - 7 * msPerDay) },
  { name: 'forget names on old invoices', waits: true, run: forgetInvoiced },
  { name: 'thin single readings', waits: true, run: (db, now) => thinReadings(db, now) },
  { name: 'forget import drafts', waits: true, run: (db, now) => forgetDrafts(db, now - 7 * msPerDay) },
  {
    name: 'forget old weather',
    waits: true,
    run: (db, now) => forgetOldWeather(db, fromEpochDay(Math.floor(now / msPerDay) - 400)),
  },
];

/** What is done when the clock has gone back: see server/plumbing/watched-clock.ts. */
export const whenBack: WhenBack = {
  end: [forgetEndedSessions, forgetLinks, forgetHalves, endLinksOver],
  goOn: [forgetEndedSessions, hurryMails, hurryForecasts],
};
