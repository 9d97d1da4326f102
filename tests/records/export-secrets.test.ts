import { eq } from 'drizzle-orm';
import { describe, expect, it } from 'vitest';
import { people } from '../../server/schema/tables.ts';
import { givePassword, goodPassword } from '../support/sign-in.ts';
import { cast, testApp } from '../support/test-app.ts';

describe('an export of everything', () => {
  it('holds no password and leaves the service as it was: people still sign in and get resets', async () => {
    const t = await testApp();
    await givePassword(t, cast.helper.id);
    const exported = await t.owner.get('/records/export/everything.json');
    expect(exported.status).toBe(200);
    expect(exported.text).not.toMatch(/argon2|passwordHash/);
    expect(exported.text).toContain(cast.helper.name);

    const right = { signInName: cast.helper.signInName, password: goodPassword };
    expect((await t.outsider.post('/sign-in', right)).status).toBe(303);
    expect((await t.owner.post(`/people/${cast.helper.id}/reset`)).status).toBe(200);
    const row = t.db.select().from(people).where(eq(people.id, cast.helper.id)).get();
    expect(row?.passwordHash).toBe('none');
  });
});
