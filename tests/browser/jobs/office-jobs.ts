import { expect } from 'vitest';
import { renewSetUpLink } from '../../../server/people/set-up.ts';
import { business, cultures } from '../../../server/schema/tables.ts';
import type { Job, JobOf } from './job.ts';

/** A new business, from the printed link to its first culture. */
const setUp: Job = async ({ hand, db, now }) => {
  await hand.go(`/set-up?token=${renewSetUpLink(db, now)}`);
  await hand.type('Your name', 'Olive Owner');
  await hand.type('Sign-in name', 'olive');
  await hand.type('Password', 'three brown snails');
  await hand.type('Password once more', 'three brown snails');
  await hand.type('Name of the business', 'Leafmould Lane');
  await hand.pick('Country', 'Germany');
  await hand.pick('Time zone', 'Berlin');
  await hand.pick('Currency', 'EUR');
  await hand.press('Set up and sign in');
  expect(new URL(hand.page.url()).pathname).not.toBe('/set-up');
  await hand.go('/species');
  await hand.press('Start with common species');
  await hand.go('/enclosures/new');
  await hand.type('Name', 'First box');
  await hand.type('Length inside', '20');
  await hand.type('Width inside', '15');
  await hand.type('Height inside', '12');
  await hand.type('Depth of the substrate', '6');
  await hand.press('Write it down');
  await hand.go('/cultures/new');
  await hand.pick('Species', 'Porcellio laevis');
  await hand.pick('Enclosure', 'First box');
  await hand.type('Code', 'ONE-1');
  await hand.tick('Bought in');
  await hand.type('Animals', '25');
  await hand.press('Write it down');
  await hand.sees('ONE-1', 'about 25');
  expect(db.select().from(cultures).all()).toHaveLength(1);
};

const bringIn: Job = async ({ hand }) => {
  await hand.go('/records');
  const text = 'Date,Culture,What,Number\n2026-11-02,NEW-1,check,\n';
  await hand.give('First file', { name: 'diary.csv', mimeType: 'text/csv', buffer: Buffer.from(text) });
  await hand.press('Look at the files');
  await hand.sees('diary.csv');
};

const settings: Job = async ({ hand, db }) => {
  await hand.go('/settings');
  await hand.press('Change the business', { role: 'link' });
  await hand.type('Name of the business', 'Moss and Bark');
  await hand.tick(/^US/);
  await hand.press('Save');
  const [row] = db.select().from(business).all();
  expect(row).toMatchObject({ name: 'Moss and Bark', units: 'us' });
};

const invite: Job = async ({ hand }) => {
  await hand.go('/people');
  await hand.press('Invite somebody', { role: 'link', exact: false });
  await hand.type('Name', 'Pat');
  await hand.press('Make the link');
  await hand.sees('Pat');
};

export const officeJobs = {
  'sets up a business': { job: setUp, who: null, isNew: true },
  'brings in files': { job: bringIn, who: 'owner' },
  'changes the settings': { job: settings, who: 'owner' },
  'invites somebody': { job: invite, who: 'owner' },
} satisfies Record<string, JobOf>;
