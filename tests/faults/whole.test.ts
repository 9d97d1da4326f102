import { afterEach, describe, expect, it } from 'vitest';
import { tableNames } from '../support/contents.ts';
import { idleKeeper } from '../support/idle-keeper.ts';
import { knownNames } from '../support/known-names.ts';
import { rounds } from '../support/payloads.ts';
import { furnishedBench, posts, type Walk } from '../support/walk.ts';
import { type Sending, sendingOf } from './valid-forms.ts';
import { watchWrites } from './writes.ts';

/** What is written before a form is worked on, so that it lasts whatever becomes of the form: tries are counted. */
const counted = ['sign_in_tries', 'half_sign_ins', 'link_asks', 'known_devices'];
/** Forms that only ask for a page. */
const onlyAsk = ['/labels'];
/** Named, so that mails are written; nothing is sent by a test's app. */
const mailServer = { SMTP_HOST: '127.0.0.1', SMTP_ENCRYPTION: 'none', MAIL_FROM: 'bench@example.org' };
type Watch = ReturnType<typeof watchWrites>;
let watching: Watch | null = null;

afterEach(() => {
  watching?.stop();
  watching = null;
});

/** Each table as it stands, mails waiting to be sent among them; as text where it is short, which is quicker. */
function looker({ sqlite }: Pick<Walk, 'sqlite'>) {
  const tables = tableNames(sqlite)
    .filter((name) => !counted.includes(name) && name !== 'sessions')
    .map((name) => ({ name, rows: sqlite.prepare(`SELECT * FROM "${name}"`).raw() }));
  return () => tables.map(({ name, rows }) => ({ name, text: JSON.stringify(rows.all()) }));
}
type Look = ReturnType<typeof looker>;

const leftOver = (now: ReturnType<Look>, before: ReturnType<Look>) =>
  now.filter(({ text }, at) => text !== before[at]?.text).map(({ name }) => name);

/** All of them with PAYLOADS=all, else the first, the one in the middle and the last. */
const chosen = (count: number) =>
  Array.from({ length: count }, (_, at) => at + 1).filter(
    (at) => at <= rounds(1, count) || at === count || at === Math.ceil(count / 2),
  );

const isClear = ({ status, text }: { status: number; text: string }) =>
  status >= 500 &&
  /[\w-]{8,}/.test(text) &&
  !/PlannedFault|: write \d+:|node_modules|\.ts:\d+|SqliteError|SQLITE_/.test(text);

type Parts = { t: Walk; watch: Watch; look: Look };

/** Fails the form of a route at one write after the other; what is wrong, and how many were failed. */
async function failing({ t, watch, look }: Parts, { path, begin }: Pick<Sending, 'path' | 'begin'>) {
  const wrong: string[] = [];
  t.sqlite.exec('SAVEPOINT whole');
  watch.failAt(0);
  const send = await begin();
  const before = look();
  t.sqlite.exec('SAVEPOINT tried');
  watch.failAt(0);
  const good = await send();
  const { count } = watch.met();
  const acted = good.status < 400 && leftOver(look(), before).length > 0;
  t.sqlite.exec('ROLLBACK TO tried');
  const places = chosen(count);
  for (const place of places) {
    watch.failAt(place);
    const answer = await send();
    const { failed } = watch.met();
    watch.failAt(0);
    const what = `${path}, write ${place} of ${count} (${failed?.slice(0, 60)})`;
    const left = leftOver(look(), before);
    t.sqlite.exec('ROLLBACK TO tried');
    // What the service has kept in memory meanwhile it need not write again: then the form was done, wholly.
    if (failed === null) {
      if (answer.status !== good.status)
        wrong.push(`${what}: was not met again, and answered ${answer.status}`);
      continue;
    }
    // The notice for the next page comes after the work: without it the work is done all the same, and said to be.
    if (/^update "sessions" set "notice" = \? where "sessions"\."id"/.test(failed)) {
      if (answer.status !== good.status) wrong.push(`${what}: is done, and answered ${answer.status}`);
      continue;
    } else if (!isClear(answer)) wrong.push(`${what}: answered ${answer.status}`);
    if (left.length > 0) wrong.push(`${what}: left in ${left.join(', ')}`);
  }
  t.sqlite.exec('RELEASE tried; ROLLBACK TO whole; RELEASE whole');
  return { wrong, acted, failed: places.length };
}

// OWASP ASVS 5.0, 2.3.3: one thing that somebody does is done wholly or not at all.
describe('every form', () => {
  it('whose work breaks off at any write leaves nothing, and says clearly that it failed', async () => {
    const t = await furnishedBench(mailServer, idleKeeper());
    const names = await knownNames(t, 'sends mails');
    await t.owner.csrf();
    const look = looker(t);
    const watch = watchWrites(t.sqlite);
    watching = watch;
    const wrong: string[] = [];
    const still: string[] = [];
    let failed = 0;
    // Signing out is one statement, and whoever did it can send no more forms.
    const paths = posts(t)
      .map(({ path }) => path)
      .filter((path) => path !== '/sign-out');
    for (const path of paths) {
      const sending = sendingOf(t, names, path);
      if (sending.isSlow && process.env.PAYLOADS !== 'all') continue;
      const done = await failing({ t, watch, look }, sending);
      wrong.push(...done.wrong);
      failed += done.failed;
      if (!done.acted) still.push(path);
    }
    if (process.env.PAYLOADS === 'all')
      console.info(
        `${paths.length} routes, ${failed} failed writes, ${still.length} did nothing: ${still.join(' ')}`,
      );
    expect(wrong).toEqual([]);
    expect(still).toEqual(onlyAsk);
  }, 600_000);

  it('is seen by this when it is done in two halves', async () => {
    const t = await furnishedBench();
    const look = looker(t);
    const watch = watchWrites(t.sqlite);
    watching = watch;
    const halves = ['UPDATE people SET name = ?', 'UPDATE business SET name = ?'];
    const send = async () => {
      try {
        for (const half of halves) t.sqlite.prepare(half).run('In two halves');
        return { status: 303, text: '' };
      } catch {
        return { status: 500, text: 'Reference 0123456789' };
      }
    };
    const { wrong } = await failing({ t, watch, look }, { path: '/twin', begin: async () => send });
    expect(wrong).toEqual([
      expect.stringContaining('write 2 of 2 (UPDATE business SET name = ?): left in people'),
    ]);
  });
});
