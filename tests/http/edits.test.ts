import { describe, expect, it } from 'vitest';
import { beginFactor, confirmFactor, whoMust } from '../../server/people/queries-second-factor.ts';
import { importDrafts } from '../../server/schema/tables.ts';
import { knownNames } from '../support/known-names.ts';
import { formsOn, type PageForm } from '../support/page-parts.ts';
import { rounds } from '../support/payloads.ts';
import { cast } from '../support/test-app.ts';
import { furnishedBench, type Walk } from '../support/walk.ts';

type Value = string | string[];

const marks = ['version', 'seen'];
const markOf = ({ untouched: fields, seen }: PageForm) =>
  marks.find((name) => /^(\d+|[0-9a-f]{24})$/.test(String(fields[name] ?? '')) && !(name in seen));

/** What this walk cannot see the end of, with the reason and what tells of it instead. */
const elsewhere: Record<string, string> = {
  '/people/second-factor': 'leads whoever saves it away to set a code up: see below',
  '/records/drafts/:key/left-out': 'only ticks, shown anew as they are with a notice: tests/records',
  '/records/drafts/:key/files/:number': 'each part has a page of its own after it: see below',
};

/** What else could stand in a field than what stands there: twice, so that two people write different things. */
function othersFor({ untouched: fields, seen }: PageForm, name: string): [Value, Value][] {
  const now = fields[name] ?? '';
  if (Array.isArray(now)) return [[now.slice(1), now.slice(0, -1)]];
  const options = seen[name];
  if (options) {
    const others = options.filter((one) => one !== now && one !== '');
    const [first = '', second = now] = others;
    return first === '' && now === '' ? [] : [[first, second]];
  }
  if (/^-?\d+([.,]\d+)?$/.test(now))
    return [[String(Number(now.replace(',', '.')) + 1), String(Number(now.replace(',', '.')) + 2)]];
  if (/^\d{4}-\d\d-\d\d$/.test(now)) return [['2026-11-20', '2026-11-21']];
  if (now === '')
    return [
      ['Words of one', 'Words of another'],
      ['3', '4'],
    ];
  return [[`${now} one`, `${now} two`]];
}

/** Fields that are filled come first: an edit form shows in them what is kept. */
const fieldsToTry = (form: PageForm) =>
  Object.keys(form.seen).sort((a, b) => Number(form.untouched[b] !== '') - Number(form.untouched[a] !== ''));

/** The form as a page shows it now; saving may have given its address another name. */
const sameForm = (html: string, form: PageForm, path: string) =>
  formsOn(html, path).find(
    ({ action, seen }) =>
      action.replace(/\d+|[A-Z]+-[\w-]+/g, '') === form.action.replace(/\d+|[A-Z]+-[\w-]+/g, '') &&
      Object.keys(form.seen).every((name) => name in seen),
  );

type Found = { name: string; first: Value; second: Value };

/** Sends the form with one field changed until its page shows what was sent: then it edits what is kept. */
async function keeps(t: Walk, form: PageForm, most: number): Promise<Found | null> {
  let tried = 0;
  for (const name of fieldsToTry(form))
    for (const [first, second] of othersFor(form, name)) {
      if (tried === most) return null;
      tried += 1;
      t.sqlite.exec('SAVEPOINT tried');
      const sent = await t.owner.post(form.action, { ...form.untouched, [name]: first });
      const shown =
        sent.status === 303 ? sameForm((await t.owner.get(form.page)).text, form, form.page) : undefined;
      t.sqlite.exec('ROLLBACK TO tried; RELEASE tried');
      if (shown && String(shown.untouched[name] ?? '') === String(first)) return { name, first, second };
    }
  return null;
}

/** One saves, then another who opened the form before; what is wrong with how that ends. */
async function twoAtOnce(t: Walk, form: PageForm, { name, first, second }: Found): Promise<string[]> {
  const wrong: string[] = [];
  const mark = markOf(form);
  if (mark) {
    const { [mark]: _mark, ...unmarked } = form.untouched;
    const answer = await t.owner.post(form.action, { ...unmarked, [name]: first });
    if (answer.status === 303) wrong.push('saved without its mark');
  }
  const quick = await t.owner.post(form.action, { ...form.untouched, [name]: first });
  if (quick.status !== 303) wrong.push(`not saved at first: ${quick.status}`);
  const late = await t.owner.post(form.action, { ...form.untouched, [name]: second });
  if (late.status !== 409) return [...wrong, `${name}: the second was answered ${late.status}`];
  const back = sameForm(late.text, form, form.page);
  if (String(back?.untouched[name] ?? '') !== String(second)) wrong.push(`${name}: what was typed is gone`);
  if (!/saved this|You both wrote/.test(late.text)) wrong.push('nobody is told who saved');
  if (!/Where the two differ/.test(late.text)) wrong.push(`${name}: the two versions are not shown`);
  if (!back) return [...wrong, 'the form did not come back'];
  const again = await t.owner.post(back.action, back.untouched);
  if (again.status !== 303) wrong.push(`knowingly: ${again.status}`);
  return wrong;
}

/** The newest entry of the culture, as its page names it. */
async function standing(t: Walk) {
  const { text } = await t.owner.get(t.at({ path: '/cultures/:code' }));
  const ids = [...text.matchAll(/\/diary\/(\d+)"/g)].map(([, id]) => Number(id));
  return { action: `${t.at({ path: '/cultures/:code' })}/diary/${Math.max(...ids)}` };
}

// OWASP ASVS 5.0, 15.4.2: what was looked at when a thing is decided is looked at again when it is done.
describe('every form that shows what is kept', () => {
  it('bears a mark of that, tells whoever saves second what the first wrote, and loses nothing', async () => {
    const t = await furnishedBench();
    // The bench has a shelf that stands in nothing, which cannot be saved so.
    t.sqlite.exec("UPDATE places SET kind = 'room'");
    const { forms } = await knownNames(t, 'in a room');
    const wrong: string[] = [];
    const edits: string[] = [];
    for (const [path, all] of forms) {
      const [form] = all.filter(({ files }) => !files);
      if (!form || Object.keys(form.seen).length === 0) continue;
      if (path in elsewhere) continue;
      const isMarked = markOf(form) !== undefined;
      const found = await keeps(t, form, isMarked ? 99 : rounds(3, 99));
      if (isMarked && !found) wrong.push(`${path}: has a mark, but nothing that could be edited`);
      if (!found) continue;
      edits.push(path);
      if (!isMarked) {
        wrong.push(`${path}: shows what is kept (${found.name}) without a mark of it`);
        continue;
      }
      t.sqlite.exec('SAVEPOINT both');
      wrong.push(...(await twoAtOnce(t, form, found)).map((what) => `${path}: ${what}`));
      t.sqlite.exec('ROLLBACK TO both; RELEASE both');
    }
    if (rounds(0, 1) === 1) console.log(`${edits.length} forms edit what is kept: ${edits.join(' ')}`);
    expect(wrong).toEqual([]);
    expect(edits.length).toBeGreaterThan(30);
  }, 240_000);

  it('tells also who must use a code, and what files mean, to whoever says it second', async () => {
    const t = await furnishedBench();
    beginFactor(t.db, cast.owner.id, 'A'.repeat(32), 1);
    confirmFactor(t.db, cast.owner.id, 1, 1);
    const [path, page] = ['/people/second-factor', '/people'];
    const open = formsOn((await t.owner.get(page)).text, page).find(({ action }) => action === path);
    expect((await t.owner.save(path, { secondFactor: 'owners' }, page)).status).toBe(303);
    const late = await t.owner.post(path, { ...open?.untouched, secondFactor: 'everybody' });
    expect([late.status, whoMust(t.db)]).toEqual([409, 'owners']);
    expect(late.text).toMatch(/Olive Owner saved this[\s\S]*Owners<[\s\S]*Everybody</);
    const again = formsOn(late.text, page).find(({ action }) => action === path);
    expect((await t.owner.post(path, again?.untouched ?? {})).status).toBe(303);
    expect(whoMust(t.db)).toBe('everybody');

    const draft = t.at({ path: '/records/drafts/:key' });
    const said = formsOn((await t.owner.get(draft)).text, draft).find(({ action }) =>
      action.endsWith('/files/1'),
    );
    const codes = { ...said?.untouched, 'code.EX-0': 'EX-7' };
    expect((await t.owner.post(`${draft}/files/1`, codes)).status).toBe(303);
    const second = await t.owner.post(`${draft}/files/1`, { ...codes, 'code.EX-0': 'EX-8' });
    expect(second.status).toBe(409);
    // The question is answered: nothing is left to type, and whoever came late reads that it was.
    expect(second.text).toContain('said about these files meanwhile');
    expect(JSON.stringify(t.db.select().from(importDrafts).all())).not.toContain('EX-8');
  });

  it('tells whoever corrects an entry second, though its page is another by then', async () => {
    const t = await furnishedBench();
    const page = t.at({ path: '/cultures/:code/diary/:id' });
    const form = formsOn((await t.helper.get(page)).text, page).find(({ action }) => action === page);
    const put = (note: string, number: string) => ({ ...form?.untouched, note, number });
    expect((await t.owner.post(page, put('counted again', '150'))).status).toBe(303);
    const late = await t.helper.post(page, put('a guess', '160'));
    expect(late.status).toBe(409);
    expect(late.text).toMatch(/Olive Owner saved this/);
    for (const words of ['counted again', 'a guess', '150', '160']) expect(late.text).toContain(words);
    const back = formsOn(late.text, page).find(({ seen }) => 'number' in seen);
    expect(back?.action).not.toBe(page);
    expect((await t.helper.post(back?.action ?? '', back?.untouched ?? {})).status).toBe(303);

    await t.owner.post(`${(await standing(t)).action}/withdraw`);
    const gone = await t.helper.post(page, put('too late', '170'));
    expect(gone.status).toBe(409);
    for (const words of ['What you typed was not saved', 'too late', '170'])
      expect(gone.text).toContain(words);
  });
});
