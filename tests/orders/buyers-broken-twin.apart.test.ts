import { describe, expect, it, vi } from 'vitest';
import { buyTheLastGroup, whatWentWrong } from '../support/buyers.ts';
import { testApp } from '../support/test-app.ts';

// A twin of the product that is broken on purpose, to prove that the test of the last group would notice: its check
// of what can be spared says yes to everything.
vi.mock('../../server/orders/spare.ts', async (original) => ({
  ...(await original<object>()),
  whyNotSpare: () => null,
}));

describe('a twin without the check', () => {
  it('is still held back by the database', async () => {
    expect(whatWentWrong(await buyTheLastGroup(await testApp(), 16))).toBeNull();
  });

  it('sells the last group again and again once the trigger is gone, and the test says so', async () => {
    const app = await testApp();
    app.sqlite.exec('DROP TRIGGER an_animal_is_promised_once');
    const round = await buyTheLastGroup(app, 16);
    expect(whatWentWrong(round)).toMatch(/^oversold: 224 animals promised/);
  });
});
