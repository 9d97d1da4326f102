import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { careSheets } from '../../views/documents/care-sheet.ts';
import { packingSheets } from './printed-sheets.ts';
import { type ReadPdf, readPdf } from './read-pdf.ts';
import { care, cupCare } from './sample-care.ts';
import { largeOrder, options, order } from './sample-orders.ts';

/**
 * What stands on each page, compared with a kept copy so that every change of a document is seen and meant.
 * `UPDATE_GOLDEN=1 npx vitest run tests/documents` writes the copies anew; look at their difference before committing.
 */
const FOLDER = new URL('./golden/', import.meta.url);
const us = { ...options, paper: 'Letter', units: 'us', locale: 'en-US' } as const;

const DOCUMENTS = {
  'packing-sheet-a4-metric': () => packingSheets([order], options),
  'packing-sheets-letter-us': () => packingSheets([order, largeOrder], us),
  'care-sheet-a4-metric': () => careSheets([care], options),
  'care-sheets-letter-us': () => careSheets([care, cupCare], us),
};

function asText(pdf: ReadPdf): string {
  const head = [
    `title: ${pdf.title}`,
    `language: ${pdf.language}`,
    `bookmarks: ${pdf.bookmarks.join(' | ')}`,
  ];
  const pages = pdf.pages.flatMap((page, index) => [
    '',
    `--- page ${index + 1}, ${page.widthPt} x ${page.heightPt} pt ---`,
    ...page.lines.map((line) => line.replaceAll('\u00a0', ' ')),
  ]);
  return `${[...head, ...pages].join('\n')}\n`;
}

describe('documents are as they were', () => {
  it.each(Object.entries(DOCUMENTS))('%s', async (name, make) => {
    const text = asText(await readPdf((await make()).pdf));
    const file = new URL(`${name}.txt`, FOLDER);
    if (process.env.UPDATE_GOLDEN === '1') {
      mkdirSync(FOLDER, { recursive: true });
      writeFileSync(file, text);
    }
    expect(text).toBe(readFileSync(file, 'utf8'));
  });
});
