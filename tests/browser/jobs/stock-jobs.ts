import { expect } from 'vitest';
import { makeCounted } from '../../support/counted-stock.ts';
import { makeCulture, makeEnclosure, makePlace, makeSpecies } from '../../support/stock.ts';
import type { Job, JobOf } from './job.ts';

const round: Job = async ({ hand, db }) => {
  const speciesId = makeSpecies(db, { sellable: false }).id;
  const enclosureId = makeEnclosure(db).id;
  const placeId = makePlace(db, { name: 'Shelf Q' }).id;
  for (const code of ['Q-1', 'Q-2', 'Q-3', 'Q-4', 'Q-5'])
    makeCulture(db, { code, speciesId, enclosureId, placeId });
  const row = (code: string) => hand.page.locator(`#round [data-code="${code}"]`);
  await hand.go('/round');
  await hand.press('Q-1: all well');
  await expect.poll(() => row('Q-1').textContent()).toContain('Looked at today');
  await hand.press('Undo the check of Q-1');
  await expect.poll(() => row('Q-1').textContent()).not.toContain('Looked at today');
  await hand.tick('Tick Q-2');
  await hand.tick('Tick Q-3');
  await hand.press('All well', { within: hand.page.getByRole('form', { name: 'Ticked cultures' }) });
  await expect.poll(() => row('Q-3').textContent()).toContain('Looked at today');
  await hand.press('All 3 here are well');
  for (const code of ['Q-1', 'Q-4', 'Q-5'])
    await expect.poll(() => row(code).textContent()).toContain('Looked at today');
  await hand.press('Undo');
  await expect.poll(() => row('Q-5').textContent()).not.toContain('Looked at today');
};

const count: Job = async ({ hand, db }) => {
  makeCulture(db, { code: 'CNT-1' });
  await hand.go('/cultures/CNT-1');
  await hand.press('Count', { role: 'link', within: hand.page.locator('main') });
  if (await hand.field('Counted').isHidden()) await hand.press('All of them', { role: 'link', exact: false });
  await hand.type('Counted', '120');
  if (await hand.field('Part searched').isVisible()) await hand.type('Part searched', '50');
  await hand.press('Write it down');
  await hand.sees('CNT-1', 'about');
};

const split: Job = async ({ hand, db }) => {
  makeCounted(db, makeSpecies(db).id, 160, { code: 'SPL-1' });
  await hand.go('/cultures/SPL-1/split');
  await hand.type('Adults', '20');
  await hand.type('Juveniles', '5');
  await hand.type('Code', 'SPL-2');
  await hand.press('Split');
  await hand.sees('SPL-2', 'about 25');
};

const feeders: Job = async ({ hand, db }) => {
  makeSpecies(db, { scientificName: 'Exemplum musca', animalGroup: 'fly', sellable: false });
  const eaters = makeSpecies(db, { commonName: 'example eater' });
  makeCulture(db, { speciesId: eaters.id });
  await hand.go('/feeders');
  await hand.unfold('Plan another species as a feeder');
  await hand.press('Exemplum musca', { role: 'link' });
  await hand.type('Gives nothing for', '12');
  await hand.type('Then gives for', '20');
  await hand.type('Gives in all', '200');
  await hand.type('Animals to begin one', '40');
  await hand.press('Save');
  await hand.sees('Exemplum musca');
};

const climate: Job = async ({ hand, db }) => {
  const { id } = makePlace(db, { name: 'Shed', kind: 'room' });
  await hand.go('/climate');
  await hand.press('Shed', { role: 'link' });
  expect(hand.page.url()).toContain(`/climate/${id}`);
  await hand.type('Temperature', '21,5');
  await hand.type('Humidity', '60');
  await hand.press('Write down');
  await hand.sees('21.5');
};

const labels: Job = async ({ hand, db }) => {
  const placeId = makePlace(db, { name: 'Label shelf' }).id;
  makeCulture(db, { code: 'LAB-1', placeId });
  makeCulture(db, { code: 'LAB-2', placeId });
  await hand.go(`/labels?place=${placeId}`);
  await hand.press('Look at the sheet');
  await hand.sees('2 labels');
};

const search: Job = async ({ hand, db }) => {
  makeCulture(db, { code: 'FND-7' });
  await hand.go('/settings');
  await hand.search('FND-7');
  await hand.press('FND-7', { role: 'link', exact: false, within: hand.page.locator('main') });
  expect(hand.page.url()).toContain('/cultures/FND-7');
};

/** What was found while it was typed is there again when somebody comes back from it. */
const back: Job = async ({ hand, db }) => {
  // One alone would be gone to at once.
  for (const code of ['BCK-7', 'BCK-8']) makeCulture(db, { code });
  await hand.go('/search');
  await hand.type('What are you looking for?', 'BCK');
  if (hand.hasScript) await hand.sees('BCK-7', 'BCK-8');
  else await hand.press('Search', { within: hand.page.locator('main') });
  await hand.press('BCK-7', { role: 'link', exact: false, within: hand.page.locator('main') });
  expect(hand.page.url()).toContain('/cultures/BCK-7');
  await hand.page.goBack();
  await hand.sees('BCK-7', 'BCK-8');
  expect(await hand.field('What are you looking for?').inputValue()).toBe('BCK');
};

const by = (job: Job) => ({ job, who: 'owner' }) as const;

export const stockJobs = {
  'goes round today': { job: round, who: 'helper' },
  'counts a culture': { job: count, who: 'helper' },
  'splits a culture': { job: split, who: 'helper' },
  'plans a feeder': by(feeders),
  'writes down a reading of the air': { job: climate, who: 'helper' },
  'prints labels': { job: labels, who: 'helper' },
  'searches from anywhere': by(search),
  'comes back to what was found': by(back),
} satisfies Record<string, JobOf>;
