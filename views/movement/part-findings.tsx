import type { MovementFinding } from '../../shared/movement/judge.ts';
import { reasonWords, whatToDo, whoDecides } from '../../shared/movement/say.ts';
import { formatDay } from '../layout/format.ts';
import type { Furniture } from '../layout/furniture.ts';
import { Notice } from '../layout/notice.tsx';

type Reader = Pick<Furniture, 'locale' | 'who'>;

const latin = (names: readonly string[]) =>
  names.map((name, index) => (
    <>
      {index > 0 && ', '}
      <i class="latin">{name}</i>
    </>
  ));

function PermitWords({ rule, locale }: { rule: MovementFinding['rule']; locale: string | undefined }) {
  if (rule.permitNumber === '') return null;
  const end = rule.permitExpiresOn;
  return (
    <>
      {' '}
      Permit {rule.permitNumber},{' '}
      {end === null ? 'no end written down' : `valid to ${formatDay(end, locale)}`}.
    </>
  );
}

/** One rule that touches a parcel: what it says, what that means for it, and where the rule stands. */
function Finding({ finding, reader }: { finding: MovementFinding; reader: Reader }) {
  const { rule, weight, reason, species } = finding;
  const { locale } = reader;
  const mayChange = reader.who?.role === 'owner';
  return (
    <Notice
      tone={weight === 'block' ? 'harm' : weight === 'warn' ? 'needs-you' : 'plain'}
      word={weight === 'block' ? 'May not go' : weight === 'warn' ? 'Mind the rule' : 'Permitted'}
      class="movement-finding"
    >
      <strong>{mayChange ? <a href={`/movement/${rule.id}/edit`}>{rule.name}</a> : rule.name}</strong>. For{' '}
      {latin(species)}. {reasonWords[reason]}
      <PermitWords rule={rule} locale={locale} />
      {whatToDo[reason] && (mayChange ? ` ${whatToDo[reason]}` : ' Ask the owner.')}
      <span class="under keep-breaks">{rule.words}</span>
      <span class="under">
        {rule.source},{' '}
        {rule.checkedOn === null ? 'not checked yet' : `checked on ${formatDay(rule.checkedOn, locale)}`}
      </span>
    </Notice>
  );
}

export type FindingsProps = {
  furniture: Reader;
  blocks: readonly MovementFinding[];
  warnings: readonly MovementFinding[];
  /** Where a page has several. */
  id?: string;
};

/** The rules that stand against a parcel and those to mind, the strictest first; nothing where there are none. */
export function Findings({ furniture, blocks, warnings, id = 'movement' }: FindingsProps) {
  const all = [...blocks, ...warnings];
  if (all.length === 0) return null;
  return (
    <section id={id} class="movement" aria-label="Movement rules">
      {all.map((finding) => (
        <Finding key={finding.rule.id} finding={finding} reader={furniture} />
      ))}
      <p class="quiet">{whoDecides}</p>
    </section>
  );
}
