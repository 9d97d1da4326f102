import { expect, it } from 'vitest';
import { printWhole } from '../../server/plumbing/print-in-thread.ts';
import { options } from '../documents/sample-orders.ts';
import { testApp } from '../support/test-app.ts';

it('refuses a paper too many before anything is looked up for it, and makes it when there is room again', async () => {
  const t = await testApp();
  const ask = () => t.outsider.get('/packing-sheets.pdf');
  const waiting = Array.from({ length: 20 }, () =>
    printWhole({ kind: 'packing', orders: [], options, bench: null }).then(
      () => 'made',
      ({ title }) => title,
    ),
  );
  const refused = await ask();
  expect(refused.status).toBe(503);
  expect(refused.text).toContain('Too many papers are being made just now');
  const came = await Promise.all(waiting);
  expect(came.filter((one) => one === 'made').length).toBeGreaterThanOrEqual(12);
  expect(came.filter((one) => one !== 'made').length).toBeGreaterThan(0);
  // Only now is it looked at who asks.
  expect((await ask()).status).toBe(303);
});
