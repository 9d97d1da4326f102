import { expect, it } from 'vitest';
import { diary } from '../../server/schema/tables.ts';
import { makeCulture } from './stock.ts';
import { type TestApp, testApp } from './test-app.ts';

type Fields = Record<string, string | number | (string | number)[]>;

export type FormPage = {
  /** The page of one culture, where the form stands and where it is sent to. */
  path: (code: string) => string;
  /** Where the form is shown, when that takes more than its address. */
  shownAt?: (code: string) => string;
  good: Fields;
  bad: Fields;
  /** What must come back of the bad form: a message and what was typed. */
  says: string;
  keeps: string[];
  /** The culture it is about; one that was never counted when left out. */
  make?: (app: TestApp) => { code: string };
};

const entries = ({ db }: TestApp) => db.select().from(diary).all().length;

async function prepared(make: FormPage['make']) {
  const app = await testApp();
  const { code } = make ? make(app) : makeCulture(app.db);
  return { app, code, before: entries(app) };
}

/** What every page with a form about one culture must do, whatever the form is. */
export function behavesLikeAFormPage({ path, shownAt = path, good, bad, says, keeps, make }: FormPage) {
  it('works for a helper and for the owner, in plain HTML', async () => {
    const { app, code, before } = await prepared(make);
    for (const who of [app.helper, app.owner]) {
      const shown = await who.get(shownAt(code));
      expect(shown.status).toBe(200);
      expect(shown.text.includes(`action="${path(code)}`)).toBe(true);
      const sent = await who.post(path(code), good);
      expect(sent.status).toBe(303);
      expect((await who.get(String(sent.headers.location))).status).toBe(200);
    }
    expect(entries(app)).toBeGreaterThan(before);
  });

  it('leads whoever is not signed in to the sign-in', async () => {
    const { app, code, before } = await prepared(make);
    const asked = await app.outsider.get(path(code));
    expect([asked.status, asked.headers.location]).toEqual([
      303,
      `/sign-in?next=${encodeURIComponent(path(code))}`,
    ]);
    expect((await app.outsider.post(path(code), good)).headers.location).toBe('/sign-in');
    expect(entries(app)).toBe(before);
  });

  it('knows no culture of another code', async () => {
    const { helper } = await testApp();
    for (const code of ['NO-999', '-1', '%00', encodeURIComponent("' OR 1=1 --")]) {
      expect((await helper.get(path(code))).status, code).toBe(404);
      expect((await helper.post(path(code), good)).status, code).toBe(404);
    }
  });

  it('takes no form without its token, and no other method', async () => {
    const { app, code, before } = await prepared(make);
    expect((await app.helper.post(path(code), good, { csrf: 'wrong' })).status).toBe(403);
    expect((await app.app.inject({ method: 'DELETE', url: path(code) })).statusCode).toBe(404);
    expect(entries(app)).toBe(before);
  });

  it('brings a wrong form back with what was typed', async () => {
    const { app, code, before } = await prepared(make);
    const answer = await app.helper.post(path(code), bad);
    expect(answer.status).toBe(422);
    for (const words of [says, ...keeps]) expect(answer.text.includes(words), words).toBe(true);
    expect(answer.text.includes('<script>alert')).toBe(false);
    expect(entries(app)).toBe(before);
  });

  it('acts once when the form is sent twice, and answers alike', async () => {
    const { app, code } = await prepared(make);
    const first = await app.helper.post(path(code), good, { formKey: 'the-same-form-key-01' });
    const written = entries(app);
    const second = await app.helper.post(path(code), good, { formKey: 'the-same-form-key-01' });
    expect([second.status, second.headers.location]).toEqual([303, first.headers.location]);
    expect(entries(app)).toBe(written);
  });

  it('refuses days to come and days before the founding', async () => {
    const { app, code, before } = await prepared(make);
    const later = await app.helper.post(path(code), { ...good, onDay: '2026-11-26' });
    expect(later.status).toBe(422);
    expect(later.text.includes('That day is still to come.')).toBe(true);
    const early = await app.helper.post(path(code), { ...good, onDay: '2026-01-09' });
    expect(early.status).toBe(422);
    expect(early.text.includes('founded only on')).toBe(true);
    for (const onDay of ['2026-02-30', 'yesterday', '25.11.2026'])
      expect((await app.helper.post(path(code), { ...good, onDay })).status, onDay).toBe(422);
    expect(entries(app)).toBe(before);
  });
}
