import { describe, expect, it } from 'vitest';
import { makeCulture } from '../support/stock.ts';
import { testApp } from '../support/test-app.ts';

// As much as a form may hold. A pattern that begins anew at each character takes longer for these than a test may.
const most = 60_000;

describe('a field that fills the whole form', () => {
  it('with space is answered with its message', async () => {
    const { helper, db } = await testApp();
    const { code } = makeCulture(db);
    const note = `first${' '.repeat(most)}last`;
    const answer = await helper.post(`/cultures/${code}/write`, { kind: 'note', note });
    expect(answer.status).toBe(422);
    expect(answer.text).toContain('This is too long: 3500 characters at most.');
  });

  it('with figures is answered with its message', async () => {
    const { helper, db } = await testApp();
    const { code } = makeCulture(db);
    const amount = `${'1'.repeat(most)}x`;
    const answer = await helper.post(`/cultures/${code}/write`, { kind: 'water', amount, amountUnit: 'ml' });
    expect(answer.status).toBe(422);
    expect(answer.text).toContain('Write a number, such as 12 or 0.5, without a thousands mark.');
  });
});
