import { h } from 'preact';
import { isDay } from '../../shared/days.ts';
import { isLanguage, languageNames } from '../../shared/settings/languages.ts';
import { careHeadingWords } from '../../shared/species/columns.ts';
import { type CareSheetData, termOf } from '../../views/documents/care-sheet-data.ts';
import { TEXT_HEADINGS } from '../../views/documents/care-text.ts';
import { formatMoment } from '../../views/layout/format.ts';
import { PaperCheck } from '../../views/orders/order-papers.tsx';
import { PapersPage } from '../../views/orders/page-papers.tsx';
import { addressOfOrder } from '../arrivals/queries-links.ts';
import { type LoadedOrder, loadOrder } from '../orders/queries.ts';
import { confirmedOn } from '../orders/queries-list.ts';
import { choiceOf } from '../parcels/queries-choices.ts';
import { numberIn } from '../plumbing/address.ts';
import { type Answer, page, part, pdf } from '../plumbing/answers.ts';
import type { StaffCall } from '../plumbing/call.ts';
import { notFound, Refusal } from '../plumbing/errors.ts';
import { ownAddress } from '../plumbing/own-address.ts';
import { printStream, printWhole } from '../plumbing/print-in-thread.ts';
import type { PrintJob } from '../plumbing/print-job.ts';
import { isOnlyHere, printOptions } from '../plumbing/printing.ts';
import { readSpecies } from '../species/queries.ts';
import { readVersion } from '../species/queries-care.ts';
import { packingDayOf } from './assemble-bench.ts';
import { careSheetOf } from './assemble-care.ts';
import { type PaperContext, packingConcerns, packingSheetOf } from './assemble-packing.ts';
import { rulesOf } from './assemble-rules.ts';
import { printCare } from './care-print.ts';
import { printSheetsOfOrder, type SheetsOfOrder, sheetsOfOrder } from './sheets-of-order.ts';

/** An order that has papers: what is not confirmed must not be packed. */
function orderWithPapers(call: StaffCall): LoadedOrder {
  const loaded = loadOrder(call.db, numberIn(call, 'number', 'order'));
  const { number, state } = loaded.order;
  if (state === 'draft')
    throw new Refusal(
      409,
      'No papers yet',
      `Order ${number} is a draft. Its papers can be printed once it is confirmed.`,
    );
  if (state === 'cancelled')
    throw new Refusal(409, 'No papers', `Order ${number} was cancelled. There is nothing to print.`);
  return loaded;
}

function packingContext(call: StaffCall): PaperContext {
  const { timeZone, locale, country } = call.business;
  return {
    orderUrl: (number) => `${ownAddress(call.config)}/orders/${number}`,
    timeZone,
    locale,
    country,
    now: call.clock.now(),
    choiceOf: (orderId) => choiceOf(call.db, orderId),
    rulesOf: (loaded) => rulesOf(call.db, loaded, call.today),
  };
}

/** An order's packing sheet as the printing thread takes it. */
const packingJob = (call: StaffCall, loaded: LoadedOrder): PrintJob => ({
  kind: 'packing',
  orders: [packingSheetOf(call.db, loaded, packingContext(call)).sheet],
  options: printOptions(call, call.business),
  bench: null,
});

export async function packingSheetOfOrder(call: StaffCall): Promise<Answer> {
  const loaded = orderWithPapers(call);
  return pdf(await printStream(packingJob(call, loaded)), `packing-sheet-${loaded.order.number}.pdf`);
}

export async function packingSheetsOfDay(call: StaffCall): Promise<Answer> {
  const day = call.query.day ?? '';
  if (!isDay(day))
    throw new Refusal(
      400,
      'Which day?',
      'Say which day, such as /packing-sheets.pdf?day=2026-11-30. The list of orders has a link for each day.',
    );
  const numbers = confirmedOn(call.db, day);
  if (numbers.length === 0) throw new Refusal(404, 'None', `No confirmed order leaves on ${day}.`);
  const { sheets, bench } = await packingDayOf(call.db, day, numbers, packingContext(call));
  const job: PrintJob = {
    kind: 'packing',
    orders: sheets,
    options: printOptions(call, call.business),
    bench,
  };
  return pdf(await printStream(job), `packing-sheets-${day}.pdf`);
}

/** The customer's page, for the code on the card in the box. */
const linkOn = (call: StaffCall, { order }: LoadedOrder) =>
  addressOfOrder(call.db, order.id, { base: ownAddress(call.config), now: call.clock.now() });

/** As they lay in the box once it is packed, or as they would be now where the address asks for that. */
const sheetsAsked = (call: StaffCall, loaded: LoadedOrder) =>
  sheetsOfOrder(call.db, loaded, { today: call.today, asNow: call.query.as === 'now' });

export async function careSheetsOfOrder(call: StaffCall): Promise<Answer> {
  const loaded = orderWithPapers(call);
  const found = sheetsAsked(call, loaded);
  const printed = await printSheetsOfOrder(call, loaded, found, linkOn(call, loaded));
  if (!printed)
    throw new Refusal(422, 'No care sheets', found.missing.join(' ') || 'This order has no animals.');
  return pdf(printed.pdf, `care-sheets-${loaded.order.number}.pdf`);
}

export async function careSheetOfSpecies(call: StaffCall): Promise<Answer> {
  const id = numberIn(call, 'id', 'species');
  const species = readSpecies(call.db, id);
  if (!species) throw notFound('species');
  const asked = call.query.language ?? 'en';
  const language = isLanguage(asked) ? asked : 'en';
  const made = careSheetOf(call.db, id, { batch: null, language });
  if ('why' in made) throw new Refusal(422, 'No care sheet', made.why);
  const { pdf: file } = await printCare(call, [made.sheet], { ...call.business, language });
  return pdf(file, `care-sheet-${species.scientificName}${language === 'en' ? '' : `-${language}`}.pdf`);
}

/** A species' sheet with an earlier care text, in the enclosure and layers of today. */
export async function careSheetOfVersion(call: StaffCall): Promise<Answer> {
  const id = numberIn(call, 'id', 'species');
  const version = readVersion(call.db, numberIn(call, 'version', 'care text'));
  if (version?.speciesId !== id || !version) throw notFound('care text');
  const { language } = version;
  const words = { ...version, versionId: version.id, inEnglish: [] };
  const made = careSheetOf(call.db, id, { batch: null, language, words });
  if ('why' in made) throw new Refusal(422, 'No care sheet', made.why);
  const { pdf: file } = await printCare(call, [made.sheet], { ...call.business, language });
  return pdf(file, `care-sheet-version-${version.id}.pdf`);
}

/** What stands in English on a sheet that should not. */
function untranslated({ sheets, reader }: SheetsOfOrder): string[] {
  const language = languageNames[reader.language];
  const said = sheets.flatMap((sheet) => {
    const yet = `${sheet.scientificName} has no ${language} text yet`;
    if (TEXT_HEADINGS.every((heading) => sheet.inEnglish.includes(heading)))
      return [`${yet}: its care sheet says it in English.`];
    const parts = [
      ...sheet.inEnglish.map((part) => inEnglishWords[part]),
      ...(wordsInEnglish(sheet) ? ['Words of the drawing'] : []),
    ];
    return parts.length === 0 ? [] : [`${yet} for: ${parts.join(', ')}. It stands in English.`];
  });
  return [...new Set(said)];
}

/** Whether a layer, a material or the enclosure has no name in the sheet's language. */
const wordsInEnglish = (sheet: CareSheetData): boolean =>
  [
    sheet.enclosure.name,
    sheet.enclosure.ventilation,
    ...sheet.recipe.flatMap(({ name, materials }) => [name, ...materials.map(({ material }) => material)]),
  ].some((english) => english !== '' && termOf(sheet, english).lang !== undefined);

const inEnglishWords = { name: 'Common name', cautions: 'Cautions', ...careHeadingWords };

/** What somebody should know before printing; found by printing, since only that shows what does not fit. */
async function warningsOf(call: StaffCall, loaded: LoadedOrder, found: SheetsOfOrder): Promise<string[]> {
  const packing = await printWhole(packingJob(call, loaded));
  const care = await printSheetsOfOrder(call, loaded, found, linkOn(call, loaded)).then(
    (printed) => printed?.warnings ?? [],
    (error: unknown) => {
      if (error instanceof Refusal && error.status === 422) return [error.message];
      throw error;
    },
  );
  const said = 'warnings' in packing ? packing.warnings : [];
  return [...packingConcerns(loaded), ...said, ...found.missing, ...untranslated(found), ...care];
}

export async function showPapers(call: StaffCall): Promise<Answer> {
  const loaded = orderWithPapers(call);
  const found = sheetsAsked(call, loaded);
  const warnings = await warningsOf(call, loaded, found);
  const { number } = loaded.order;
  if (call.wantsPart) return part(h(PaperCheck, { number, warnings: warnings.length }));
  const address = ownAddress(call.config);
  const { timeZone, locale } = call.business;
  return page(
    h(PapersPage, {
      furniture: call.furniture,
      number,
      warnings,
      language: languageNames[found.reader.language],
      packedOn: found.keptAt === null ? null : formatMoment(found.keptAt, timeZone, locale),
      onlyHere: isOnlyHere(address) ? address : null,
    }),
  );
}
