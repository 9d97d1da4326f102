import request from 'supertest';
import { describe, expect, it } from 'vitest';
import { contentsOf } from '../support/contents.ts';
import { furnishedBench, gets } from '../support/walk.ts';

describe('reading', () => {
  it('changes nothing in the database, whoever reads and however often', async () => {
    const t = await furnishedBench();
    const before = contentsOf(t.sqlite);
    for (const address of gets(t)) {
      for (const visitor of [t.outsider, t.helper, t.owner]) await visitor.get(t.at(address));
      await request(t.app.server).head(t.at(address));
      expect([address.path, contentsOf(t.sqlite)]).toEqual([address.path, before]);
    }
  });

  it('with a link in a mail uses nothing up', async () => {
    const t = await furnishedBench();
    const link = `/invitation?token=${'w'.repeat(43)}`;
    for (let count = 0; count < 3; count += 1) {
      expect((await t.outsider.get(link)).status).toBe(200);
      await request(t.app.server).head(link);
    }
    expect((await t.outsider.get(link)).status).toBe(200);
  });
});
