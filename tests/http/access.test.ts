import { describe, expect, it } from 'vitest';
import type { Address } from '../../server/plumbing/access.ts';
import { contentsOf } from '../support/contents.ts';
import { furnishedBench, gets, posts } from '../support/walk.ts';

const say = ({ method, path }: Address, got: unknown) => `${method} ${path}: ${String(got)}`;

/** Walks addresses one after another and lists those that do not answer as expected. */
async function walk(
  addresses: readonly Address[],
  visit: (address: Address) => Promise<{ status: number; headers: Record<string, string> }>,
  isRight: (answer: { status: number; headers: Record<string, string> }, address: Address) => boolean,
): Promise<string[]> {
  const wrong: string[] = [];
  for (const address of addresses) {
    const answer = await visit(address);
    if (!isRight(answer, address))
      wrong.push(say(address, `${answer.status} ${answer.headers.location ?? ''}`));
  }
  return wrong;
}

const staffOnly = ({ access }: Address) => access !== 'anyone';
const ownerOnly = ({ access }: Address) => access === 'owner';
const forHelpers = ({ access }: Address) => access === 'helper';

describe('every address', () => {
  it('says who may use it', async () => {
    const t = await furnishedBench();
    expect(t.app.surface.length).toBeGreaterThan(50);
    for (const address of t.app.surface) expect(['anyone', 'helper', 'owner']).toContain(address.access);
  });

  it('that is not for anyone sends nobody to sign in', async () => {
    const t = await furnishedBench();
    const before = contentsOf(t.sqlite);
    const pages = await walk(
      gets(t).filter(staffOnly),
      (address) => t.outsider.get(t.at(address)),
      ({ status, headers }, address) =>
        status === 303 && headers.location === `/sign-in?next=${encodeURIComponent(t.at(address))}`,
    );
    const forms = await walk(
      posts(t).filter(staffOnly),
      (address) => t.outsider.post(t.at(address)),
      ({ status, headers }) => status === 303 && headers.location === '/sign-in',
    );
    expect([...pages, ...forms]).toEqual([]);
    expect(contentsOf(t.sqlite)).toEqual(before);
  });

  it('of the owner is refused to a helper', async () => {
    const t = await furnishedBench();
    const before = contentsOf(t.sqlite);
    const pages = await walk(
      gets(t).filter(ownerOnly),
      (address) => t.helper.get(t.at(address)),
      ({ status }) => status === 403,
    );
    const forms = await walk(
      posts(t).filter(ownerOnly),
      (address) => t.helper.post(t.at(address)),
      ({ status }) => status === 403,
    );
    expect([...pages, ...forms]).toEqual([]);
    expect(contentsOf(t.sqlite)).toEqual(before);
  });

  it('is closed to whoever was deactivated or whose session has ended', async () => {
    const t = await furnishedBench();
    t.sqlite.prepare('UPDATE people SET active = 0 WHERE role = ?').run('helper');
    const closedToHelper = await walk(
      gets(t).filter(forHelpers),
      (address) => t.helper.get(t.at(address)),
      ({ status }) => status === 303,
    );
    t.clock.forward(31);
    const closedToOwner = await walk(
      gets(t).filter(staffOnly),
      (address) => t.owner.get(t.at(address)),
      ({ status }) => status === 303,
    );
    expect([...closedToHelper, ...closedToOwner]).toEqual([]);
  });

  it('lets its role in', async () => {
    const t = await furnishedBench();
    // What is shown depends on more (an order's state, a link's token); that is for the tests of each feature.
    const isIn = ({ status }: { status: number }) => status < 500 && ![401, 403, 404].includes(status);
    const asOwner = await walk(gets(t), (address) => t.owner.get(t.at(address)), isIn);
    const asHelper = await walk(
      gets(t).filter(({ access }) => access !== 'owner'),
      (address) => t.helper.get(t.at(address)),
      isIn,
    );
    expect([...asOwner, ...asHelper]).toEqual([]);
  });

  it('with a foreign or wrong number is not there', async () => {
    const t = await furnishedBench();
    const open = gets(t).filter(({ path }) => /:(id|number|code|key)\b/.test(path));
    const wrong: string[] = [];
    for (const value of [
      '0',
      '-1',
      '999999',
      '99999999999999999999',
      'x',
      '1e3',
      '%00',
      '__proto__',
      '..%2f..%2fetc',
    ]) {
      const misses = await walk(
        open,
        ({ path }) => t.owner.get(path.replace(/:(id|number|code|key)\b/g, value)),
        ({ status }) => status === 404,
      );
      wrong.push(...misses.map((miss) => `${value}: ${miss}`));
    }
    expect(wrong).toEqual([]);
  });
});
