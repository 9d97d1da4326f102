import { afterAll, describe, expect, it } from 'vitest';
import { readPdf } from '../documents/read-pdf.ts';
import { closeDevices, deviceAt, listening } from '../support/browser.ts';
import { makeCulture, makeEnclosure } from '../support/stock.ts';
import { testApp, testToday } from '../support/test-app.ts';

afterAll(closeDevices);

describe.each(['A4', 'Letter'] as const)('the substrate list on %s', (format) => {
  it('is upright, and its first page holds a mix with its drawing', async () => {
    const t = await testApp();
    const enclosure = makeEnclosure(t.db, { name: 'Box', lengthMm: 200, widthMm: 100, heightMm: 90 });
    makeCulture(t.db, { enclosureId: enclosure.id, code: 'EX-A' });
    const fields = { what: 'repot', onDay: testToday, enclosureId: enclosure.id, enclosures: 1 };
    await t.owner.post('/cultures/EX-A/plan', fields);
    const base = `http://127.0.0.1:${await listening(t)}`;
    const { page } = await deviceAt(t, base, 'owner', { viewport: { width: 1280, height: 800 } });
    await page.goto(`${base}/substrate`);
    const { pages } = await readPdf(await page.pdf({ format }));
    const [first] = pages;
    expect(first && first.widthPt < first.heightPt).toBe(true);
    const words = first?.lines.join(' ') ?? '';
    expect(words).toContain('Mix in all');
    expect(words).toContain('Free above');
    expect(words).not.toContain('Change the recipe');
  });
});
