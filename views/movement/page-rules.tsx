import { type MovementRule, type RuleEffect, ruleEffects } from '../../shared/movement/rule.ts';
import { whoDecides } from '../../shared/movement/say.ts';
import { LinkButton, PostButton } from '../layout/button.tsx';
import { Empty } from '../layout/empty.tsx';
import { FilterBar } from '../layout/filter-bar.tsx';
import { Field, SelectField } from '../layout/form.tsx';
import { formatCount, formatDay } from '../layout/format.ts';
import type { Furniture } from '../layout/furniture.ts';
import { Notice } from '../layout/notice.tsx';
import { Shell } from '../layout/shell.tsx';
import { type Column, DataTable } from '../layout/table.tsx';
import { borderWords, effectWords, placeWords } from './say.ts';

export type RuleRow = {
  rule: MovementRule;
  animals: string;
  isLatin: boolean;
  isRetired: boolean;
  /** What wants doing: nobody has checked it, its permit is missing, has ended or ends soon. */
  needs: 'check' | 'permit missing' | 'permit ended' | 'permit ends soon' | null;
};

export type RuleFilter = { words: string; effect: RuleEffect | ''; needs: boolean; retired: boolean };

export type RulesPageProps = {
  furniture: Furniture;
  rows: readonly RuleRow[];
  filter: RuleFilter;
  /** How many there are in all, those given up among them. */
  total: number;
  /** Rules that nobody has checked yet. */
  unchecked: number;
  origin: string;
  /** No rule can know which state or region parcels start in. */
  needsOrigin: boolean;
  startingCount: number;
};

const needWords: Record<NonNullable<RuleRow['needs']>, string> = {
  check: 'verify before use',
  'permit missing': 'no permit yet: blocks',
  'permit ended': 'permit has ended: blocks',
  'permit ends soon': 'ends soon',
};

const rule: Column<RuleRow> = {
  key: 'name',
  head: 'Rule',
  rowHeader: true,
  cell: ({ rule, isRetired }) => (
    <>
      <a href={`/movement/${rule.id}/edit`}>{rule.name}</a>
      {isRetired && <small class="under"> given up</small>}
    </>
  ),
};

const inShort: Column<RuleRow> = {
  key: 'words',
  head: 'In short',
  phoneLabel: '',
  cell: ({ rule }) => (
    <>
      <span class="keep-breaks">{rule.words}</span>
      <small class="under">{rule.source}</small>
    </>
  ),
};

const way: Column<RuleRow> = {
  key: 'way',
  head: 'From, to',
  phoneWide: true,
  cell: ({ rule }) => (
    <>
      {placeWords(rule.from)} to {placeWords(rule.to)}
      {rule.border !== 'any' && <small class="under"> {borderWords[rule.border]}</small>}
    </>
  ),
};

const animals: Column<RuleRow> = {
  key: 'animals',
  head: 'Animals',
  cell: ({ animals, isLatin }) => (isLatin ? <i class="latin">{animals}</i> : animals),
};

const does: Column<RuleRow> = { key: 'effect', head: 'Does', cell: ({ rule }) => effectWords[rule.effect] };

const checked = (locale: string | undefined): Column<RuleRow> => ({
  key: 'checked',
  head: 'Checked',
  cell: ({ rule }) => (rule.checkedOn === null ? needWords.check : formatDay(rule.checkedOn, locale)),
});

function PermitCell({ row, locale }: { row: RuleRow; locale: string | undefined }) {
  const { rule, needs } = row;
  if (rule.effect !== 'permit') return <>none asked</>;
  return (
    <>
      {rule.permitNumber || 'none'}
      {rule.permitExpiresOn && <small class="under"> to {formatDay(rule.permitExpiresOn, locale)}</small>}
      {needs !== null && needs !== 'check' && <strong class="under"> {needWords[needs]}</strong>}
    </>
  );
}

function GiveUp({ row, furniture }: { row: RuleRow; furniture: Furniture }) {
  const { rule, isRetired } = row;
  const verb = isRetired ? 'Bring back' : 'Give up';
  return (
    <PostButton
      furniture={furniture}
      action={`/movement/${rule.id}/${isRetired ? 'bring-back' : 'retire'}`}
      label={verb}
      ariaLabel={`${verb} ${rule.name}`}
      kind="quiet"
      class="nowrap"
      keyPart={`rule-${rule.id}`}
    />
  );
}

const columnsFor = (furniture: Furniture): Column<RuleRow>[] => [
  rule,
  inShort,
  way,
  animals,
  does,
  checked(furniture.locale),
  {
    key: 'permit',
    head: 'Permit',
    cell: (row) => <PermitCell row={row} locale={furniture.locale} />,
  },
  {
    key: 'change',
    head: 'Change',
    hideHead: true,
    phoneLabel: '',
    cell: (row) => <GiveUp row={row} furniture={furniture} />,
  },
];

function Filter({ filter }: { filter: RuleFilter }) {
  const isFiltered = filter.words !== '' || filter.effect !== '' || filter.needs || filter.retired;
  const chosen = [
    filter.words && `“${filter.words}”`,
    filter.effect && effectWords[filter.effect],
    filter.needs ? 'wants something done' : filter.retired && 'given up',
  ];
  return (
    <FilterBar action="/movement" clearHref={isFiltered ? '/movement' : undefined} chosen={chosen}>
      <Field label="Words" name="words" type="search" value={filter.words} maxLength={100} />
      <SelectField
        label="Does"
        name="effect"
        value={filter.effect}
        empty="Anything"
        options={ruleEffects.map((value) => ({ value, label: effectWords[value] }))}
      />
      <SelectField
        label="Which"
        name="which"
        value={filter.needs ? 'needs' : filter.retired ? 'retired' : ''}
        empty="In force"
        options={[
          { value: 'needs', label: 'Wants something done' },
          { value: 'retired', label: 'Given up' },
        ]}
      />
    </FilterBar>
  );
}

function Begin({ furniture, startingCount, total }: RulesPageProps) {
  if (total > 0) return null;
  return (
    <>
      <Empty title="No rules yet. Write down those that touch what you send, or begin with public ones.">
        <p>
          The public ones are about US mail, plant pests between US states, air cargo and protected species.
          Each is marked “verify before use” and only warns until you have read it where it is published.
        </p>
      </Empty>
      <PostButton
        furniture={furniture}
        action="/movement/starting"
        label={`Begin with ${startingCount} public rules`}
        keyPart="starting"
      />
    </>
  );
}

/** The owner's table of movement rules: what may go where, and on what paper. */
export function RulesPage(props: RulesPageProps) {
  const { furniture, rows, total, unchecked, origin, needsOrigin } = props;
  return (
    <Shell
      furniture={furniture}
      title="Movement rules"
      purpose="What may be sent where. An order that a rule forbids cannot be confirmed, packed or sent."
      width="wide"
      breadcrumbs={[{ href: '/settings', label: 'Settings' }]}
      actions={
        <LinkButton href="/movement/new" kind="main">
          New rule
        </LinkButton>
      }
    >
      <Notice tone="needs-you" word="Who decides">
        {whoDecides}
      </Notice>
      {unchecked > 0 && (
        <Notice tone="needs-you">
          {formatCount(unchecked, 'rule')} {unchecked === 1 ? 'is' : 'are'} not checked yet and only{' '}
          {unchecked === 1 ? 'warns' : 'warn'}. Read each where it is published, then write the day into
          “Checked on”.
        </Notice>
      )}
      <p>
        Parcels start in {origin}. <a href="/movement/origin">Change</a>
        {needsOrigin && ' Some rules ask for your state or region: say it, or they can only warn.'}
      </p>
      {total > 0 && <Filter filter={props.filter} />}
      {total > 0 && rows.length === 0 && (
        <Empty title="No rule like that." step={{ href: '/movement', label: 'Show all' }} />
      )}
      {rows.length > 0 && (
        <DataTable
          caption="Movement rules"
          hideCaption
          columns={columnsFor(furniture)}
          rows={rows}
          rowKey={({ rule }) => rule.id}
          rowTone={({ needs }) =>
            needs === null
              ? undefined
              : needs === 'check' || needs === 'permit ends soon'
                ? 'needs-you'
                : 'harm'
          }
        />
      )}
      <Begin {...props} />
    </Shell>
  );
}
