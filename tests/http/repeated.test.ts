import { describe, expect, it } from 'vitest';
import { contentsOf } from '../support/contents.ts';
import { knownNames } from '../support/known-names.ts';
import { rounds } from '../support/payloads.ts';
import { furnishedBench, posts } from '../support/walk.ts';

/** Sixteen with PAYLOADS=all. */
const atOnce = rounds(3, 16);

/** What counts its visitors, or ends whoever asks: there is no second time, or it is meant to count each. */
const counts = ['sign_in_tries', 'half_sign_ins', 'known_devices', 'sessions', 'link_asks'];
const without = (prints: Record<string, string>) =>
  Object.fromEntries(Object.entries(prints).filter(([name]) => !counts.includes(name)));

/** Where on the page somebody is led to may differ: a mended row is not in the list any more. */
const answerOf = ({ status, headers }: { status: number; headers: Record<string, string> }) =>
  `${status} ${headers.location?.replace(/#.*/, '') ?? ''}`;

// OWASP ASVS 5.0, 2.3.3 and 15.4.2: a form that comes again, by a nervous thumb or a bad line, acts once.
describe('every form', () => {
  it('that comes twice, then many times at once, acts once and is answered alike', async () => {
    const t = await furnishedBench();
    const { forms } = await knownNames(t);
    const wrong: string[] = [];
    let acted = 0;
    await t.owner.csrf();
    for (const { path } of posts(t)) {
      if (/sign-in|sign-out/.test(path)) continue;
      const address = t.at({ path });
      const usual = (forms.get(path) ?? []).find(({ action }) => action === address) ?? forms.get(path)?.[0];
      const formKey = `repeated-form-${path.replace(/\W/g, '-')}`.slice(0, 120);
      const send = () => t.owner.post(address, usual?.fields ?? {}, { formKey });
      t.sqlite.exec('SAVEPOINT repeated');
      const before = JSON.stringify(without(contentsOf(t.sqlite)));
      const first = await send();
      const after = JSON.stringify(without(contentsOf(t.sqlite)));
      const others = [await send(), ...(await Promise.all(Array.from({ length: atOnce }, send)))];
      // Whoever ended their own session with it is asked to sign in.
      const ended = others.some(({ headers }) => headers.location === '/sign-in');
      if (first.status < 400 && !ended) {
        acted += before === after ? 0 : 1;
        for (const other of others)
          if (answerOf(other) !== answerOf(first))
            wrong.push(`${path}: ${answerOf(first)}, then ${answerOf(other)}`);
      }
      if (JSON.stringify(without(contentsOf(t.sqlite))) !== after)
        wrong.push(`${path}: wrote again (${first.status})`);
      t.sqlite.exec('ROLLBACK TO repeated; RELEASE repeated');
    }
    expect([...new Set(wrong)]).toEqual([]);
    expect(acted).toBeGreaterThan(55);
  }, 240_000);
});
