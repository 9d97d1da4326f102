import type { DiaryForm } from '../../shared/cultures/diary-form.ts';
import { writtenWords } from '../../views/cultures/kind-words.ts';
import { cultureHref } from '../../views/cultures/page-list.tsx';
import { formatEstimate } from '../../views/layout/round-estimate.ts';
import type { Estimate } from '../counts/queries-estimate.ts';
import type { Notice } from '../plumbing/answers.ts';

type Context = {
  code: string;
  written: { id: number; entries: number };
  known: Estimate | undefined;
  /** Orders that animals of the culture are promised to. */
  orders: number[];
  locale: string;
};

/** What follows from an entry, in a sentence; '' where nothing does. */
function consequence(form: DiaryForm, { known, locale }: Context): string {
  switch (form.kind) {
    case 'harvest':
    case 'addition':
    case 'die-off':
      if (known?.median == null) return 'The diary contradicts itself now: correct the entry that is wrong.';
      return `Now ${formatEstimate(known.median, known.lower ?? 0, known.upper ?? 0, locale)}.`;
    case 'mites':
      return 'Nothing of it is offered for sale until a check is clear of mites.';
    case 'quarantine':
      return 'Nothing of it is offered for sale.';
    default:
      return '';
  }
}

/** After these somebody wants to know where it may have gone. */
const noteworthy = new Set<DiaryForm['kind']>(['mites', 'mould', 'die-off']);

/** What the next page says of an entry that was just written. */
export function noticeOf(form: DiaryForm, context: Context): Notice {
  const { code, written, orders } = context;
  const held = form.kind === 'mites' || form.kind === 'quarantine';
  const promised =
    held && orders.length > 0
      ? `Animals of it are promised to ${orders.length === 1 ? 'order' : 'orders'} ${orders.join(', ')}: choose others there.`
      : '';
  const said = `${code}, ${writtenWords[form.kind].label.toLowerCase()}: written down.`;
  const text = [said, consequence(form, context), promised].filter(Boolean).join(' ');
  const action = `${cultureHref(code)}/diary/${written.id}/withdraw`;
  const links = noteworthy.has(form.kind)
    ? [{ href: `${cultureHref(code)}/trace?what=${form.kind}`, label: 'Who had contact with it' }]
    : [];
  const undo: Notice['undo'] = { action, label: 'Undo' };
  if (form.kind === 'mites' && written.entries > 1) undo.fields = { whole: 'yes' };
  return { text, tone: promised ? 'needs-you' : 'plain', links, undo };
}
