import { describe, expect, it } from 'vitest';
import { knownNames } from '../support/known-names.ts';
import { shapeOf, tracesIn } from '../support/page-parts.ts';
import { formulas, markup, nth, rounds, templates } from '../support/payloads.ts';
import { fill, isShown, openColumns, unguarded } from '../support/stored-text.ts';
import { furnishedBench, gets, type Walk } from '../support/walk.ts';

// OWASP ASVS 5.0, 1.2.1 to 1.2.3 and 1.2.10: text that was stored long ago, by whatever way it came in.

/** Every page, as the owner and as whoever may without signing in; parts for htmx too. */
async function pagesOf(t: Walk): Promise<Map<string, string>> {
  const pages = new Map<string, string>();
  // The log of who read what is shown too, and grows by this very walk.
  t.sqlite.exec('DELETE FROM personal_reads');
  for (const address of gets(t).filter(({ path }) => isShown(path))) {
    const visitor = address.access === 'anyone' ? t.outsider : t.owner;
    const { text, headers, status } = await visitor.get(t.at(address));
    if (status >= 500) pages.set(address.path, `<xss-mark ${status}>`);
    else if (headers['content-type']?.startsWith('text/html')) pages.set(address.path, text);
  }
  return pages;
}

/** Texts that decide how a page looks by being there at all. */
const alike = (a: string, b: string) => JSON.stringify(shapeOf(a)) === JSON.stringify(shapeOf(b));

describe('text that is stored', () => {
  it('is text on every page, whatever it holds', async () => {
    const t = await furnishedBench();
    unguarded(t);
    const columns = openColumns(t);
    expect(columns.length).toBeGreaterThan(60);
    const harmless = 'a quiet word in its place';
    fill(t, columns, (at) => `${harmless} ${at}`);
    const quiet = await pagesOf(t);
    expect([...quiet].filter(([, text]) => text.startsWith('<xss-mark'))).toEqual([]);
    expect(quiet.size).toBeGreaterThan(90);
    expect([...quiet.values()].filter((text) => text.includes(harmless)).length).toBeGreaterThan(60);
    // Lines make paragraphs and addresses make links, as they should: those are asked for in payloads.test.ts.
    const texts = [...markup, ...templates].map((text) =>
      text.replaceAll('\u0000', '').replaceAll('\n', ' '),
    );
    const wrong: string[] = [];
    for (let round = 0; round < rounds(1, texts.length); round += 1) {
      fill(t, columns, (at) => `${nth(texts, at + round * 29)} ${at}`);
      for (const [path, text] of await pagesOf(t)) {
        wrong.push(...tracesIn(text).map((trace) => `${path}, round ${round}: ${trace}`));
        const before = quiet.get(path);
        if (before !== undefined && !alike(before, text))
          wrong.push(`${path}, round ${round}: is built otherwise`);
      }
    }
    expect(wrong).toEqual([]);
  });

  it('is no formula in any file for spreadsheets, and numbers stay numbers', async () => {
    const t = await furnishedBench();
    unguarded(t);
    const columns = openColumns(t);
    fill(t, columns, (at) => `${nth(formulas, at)} ${at}`);
    const files = new Set(['/settings/changes.csv', '/invoices/ledger.csv?from=2000-01-01&to=2030-01-01']);
    for (const { path } of gets(t)) if (path.endsWith('.csv')) files.add(t.at({ path }));
    for (const [, name] of (await t.owner.get('/records')).text.matchAll(
      /href="(\/records\/export\/[\w-]+\.csv)"/g,
    ))
      files.add(name ?? '');
    expect(files.size).toBeGreaterThan(8);
    const wrong: string[] = [];
    let cells = 0;
    for (const file of files) {
      const answer = await t.owner.get(file);
      // Without its period the ledger asks for one.
      if (answer.status !== 422) expect([file, answer.status]).toEqual([file, 200]);
      for (const cell of cellsOf(answer.text.replace(/^\uFEFF/, ''))) {
        cells += 1;
        if (/^[=+@\t\r\uff1d]|^-(?!\d+([.,]\d+)?$)/.test(cell))
          wrong.push(`${file}: ${JSON.stringify(cell.slice(0, 30))}`);
      }
    }
    expect(cells).toBeGreaterThan(200);
    expect(wrong).toEqual([]);
  });
});

/** Cells as RFC 4180 has them. */
const cellsOf = (text: string) =>
  [...text.matchAll(/(?:^|,|\r?\n)(?:"((?:[^"]|"")*)"|([^,"\r\n]*))/g)].map(([, quoted, plain]) =>
    (quoted ?? plain ?? '').replaceAll('""', '"'),
  );

describe('names that pages know', () => {
  it('are found without anybody listing them', async () => {
    const t = await furnishedBench();
    const { forms, fields } = await knownNames(t);
    expect(forms.size).toBeGreaterThan(70);
    expect(fields.length).toBeGreaterThan(150);
  });
});
