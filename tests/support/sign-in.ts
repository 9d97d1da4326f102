import { eq } from 'drizzle-orm';
import { hashPassword } from '../../server/plumbing/passwords.ts';
import { people } from '../../server/schema/tables.ts';
import type { TestApp } from './test-app.ts';

export const goodPassword = 'moss under the old oak';
let hash: Promise<string> | null = null;

/** Gives somebody of the cast a password; hashed once for all tests of a file. */
export async function givePassword(t: TestApp, personId: string): Promise<void> {
  hash ??= hashPassword(goodPassword);
  t.db
    .update(people)
    .set({ passwordHash: await hash })
    .where(eq(people.id, personId))
    .run();
}
