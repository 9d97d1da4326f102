import { h } from 'preact';
import { printForm } from '../../shared/labels/form.ts';
import { dealOut, nextLabel } from '../../shared/labels/sheet.ts';
import { PrintLabelsPage } from '../../views/labels/page-print.tsx';
import { addressWith } from '../plumbing/address.ts';
import { type Answer, page, pdf, redirect } from '../plumbing/answers.ts';
import type { FormBody, StaffCall } from '../plumbing/call.ts';
import { notFound, Refusal } from '../plumbing/errors.ts';
import { readForm } from '../plumbing/forms.ts';
import { printWhole } from '../plumbing/print-in-thread.ts';
import { printOptions } from '../plumbing/printing.ts';
import { judge, labelOf, sheetOn } from './assemble.ts';
import { culturesForLabels, markPrinted, readSheet, updateSheet } from './queries.ts';

/** What an address or a form asks to be printed; what is not there any more is left out. */
function printIn(call: StaffCall, fields: FormBody) {
  const read = readForm(printForm, fields);
  if (!read.ok)
    throw new Refusal(
      400,
      'Which labels?',
      'Choose the cultures on the page of labels and make the sheet again.',
    );
  const stored = read.data.sheet === undefined ? null : readSheet(call.db, read.data.sheet);
  if (stored === undefined) throw notFound('sheet of labels');
  const sheet = sheetOn(call, stored);
  if (!sheet)
    throw new Refusal(
      422,
      'Does not fit',
      `The measures of this sheet do not fit on ${call.business.paper}. The owner can mend them in the settings.`,
    );
  const cultures = culturesForLabels(call.db, { which: 'all', only: read.data.cultures });
  if (cultures.length === 0) throw notFound('culture');
  const first = Math.min(read.data.first, sheet.perSheet);
  const labels = cultures.map((culture) => labelOf(call, culture));
  return { stored, sheet, cultures, labels, first, cutLines: stored?.cutLines ?? true };
}

export function showSheet(call: StaffCall): Answer {
  const { stored, sheet, cultures, labels, first, cutLines } = printIn(call, call.query);
  const asked = { sheet: stored?.id, first, cultures: cultures.map(({ id }) => id).join(',') };
  return page(
    h(PrintLabelsPage, {
      furniture: call.furniture,
      sheetName: stored?.name ?? null,
      sheet,
      said: call.business,
      sheets: dealOut(labels, sheet.perSheet, first),
      sample: labels[0] ?? null,
      count: labels.length,
      cutLines,
      judged: judge(labels, sheet),
      pdfHref: addressWith('/labels/sheet.pdf', asked),
      fields: { ...asked, sheet: stored?.id ?? '' },
    }),
  );
}

export async function labelsPdf(call: StaffCall): Promise<Answer> {
  const { sheet, labels, first, cutLines } = printIn(call, call.query);
  const options = printOptions(call, call.business);
  const { pdf: file } = await printWhole({
    kind: 'labels',
    labels: { sheet, labels, first, cutLines },
    options,
  });
  return pdf(file, 'labels.pdf');
}

/** Only whoever stands at the printer knows whether the sheet came out well. */
export function labelsPrinted(call: StaffCall): Answer {
  const { stored, sheet, cultures, first } = printIn(call, call.body);
  const next = nextLabel(first, cultures.length, sheet.perSheet);
  call.once((tx) => {
    markPrinted(tx, cultures, { personId: call.who.id, now: call.clock.now() });
    if (stored) updateSheet(tx, stored.id, { nextLabel: next });
    return true;
  });
  const left = next === 1 ? '' : ` The next print on this sheet begins at label ${next}.`;
  const labels = cultures.length === 1 ? 'One label is' : `${cultures.length} labels are`;
  return redirect('/labels', `${labels} marked as printed.${left}`);
}
