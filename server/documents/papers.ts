import { h } from 'preact';
import { isDay } from '../../shared/days.ts';
import { isLanguage } from '../../shared/settings/languages.ts';
import { packingSheets } from '../../views/documents/packing-sheet.ts';
import { PaperCheck } from '../../views/orders/order-papers.tsx';
import { PapersPage } from '../../views/orders/page-papers.tsx';
import { type LoadedOrder, loadOrder } from '../orders/queries.ts';
import { confirmedOn } from '../orders/queries-list.ts';
import { numberIn } from '../plumbing/address.ts';
import { type Answer, page, part, pdf } from '../plumbing/answers.ts';
import type { StaffCall } from '../plumbing/call.ts';
import { notFound, Refusal } from '../plumbing/errors.ts';
import { ownAddress } from '../plumbing/own-address.ts';
import { inTurn, isOnlyHere, printOptions } from '../plumbing/printing.ts';
import { readSpecies } from '../species/queries.ts';
import { careSheetOf } from './assemble-care.ts';
import { careSheetsOf, packingConcerns, packingSheetOf } from './assemble-packing.ts';
import { arrivalCardOf, printCare, readerOf, sortedSheets } from './care-print.ts';

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

const packingContext = (call: StaffCall) => ({
  orderUrl: (number: number) => `${ownAddress(call.config)}/orders/${number}`,
  timeZone: call.business.timeZone,
});

function printPacking(call: StaffCall, loaded: readonly LoadedOrder[]) {
  const sheets = loaded.map((one) => packingSheetOf(call.db, one, packingContext(call)));
  return inTurn(() => packingSheets(sheets, printOptions(call, call.business)));
}

export async function packingSheetOfOrder(call: StaffCall): Promise<Answer> {
  const loaded = orderWithPapers(call);
  const { pdf: file } = await printPacking(call, [loaded]);
  return pdf(file, `packing-sheet-${loaded.order.number}.pdf`);
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
  const { pdf: file } = await printPacking(
    call,
    numbers.map((number) => loadOrder(call.db, number)),
  );
  return pdf(file, `packing-sheets-${day}.pdf`);
}

export async function careSheetsOfOrder(call: StaffCall): Promise<Answer> {
  const loaded = orderWithPapers(call);
  const { sheets, missing } = sortedSheets(careSheetsOf(call.db, loaded, call.today));
  if (sheets.length === 0)
    throw new Refusal(422, 'No care sheets', missing.join(' ') || 'This order has no animals.');
  const { pdf: file } = await printCare(
    call,
    sheets,
    readerOf(loaded),
    arrivalCardOf(loaded, sheets, call.business.email),
  );
  return pdf(file, `care-sheets-${loaded.order.number}.pdf`);
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

/** What somebody should know before printing; found by printing, since only that shows what does not fit. */
async function warningsOf(call: StaffCall, loaded: LoadedOrder): Promise<string[]> {
  const packing = await printPacking(call, [loaded]);
  const { sheets, missing } = sortedSheets(careSheetsOf(call.db, loaded, call.today));
  const care =
    sheets.length === 0
      ? []
      : await printCare(
          call,
          sheets,
          readerOf(loaded),
          arrivalCardOf(loaded, sheets, call.business.email),
        ).then(
          (printed) => printed.warnings,
          (error: unknown) => {
            if (error instanceof Refusal && error.status === 422) return [error.message];
            throw error;
          },
        );
  return [...packingConcerns(loaded), ...packing.warnings, ...missing, ...care];
}

export async function showPapers(call: StaffCall): Promise<Answer> {
  const loaded = orderWithPapers(call);
  const warnings = await warningsOf(call, loaded);
  const { number } = loaded.order;
  if (call.wantsPart) return part(h(PaperCheck, { number, warnings: warnings.length }));
  const address = ownAddress(call.config);
  return page(
    h(PapersPage, {
      furniture: call.furniture,
      number,
      warnings,
      onlyHere: isOnlyHere(address) ? address : null,
    }),
  );
}
