import { packingFieldWords } from '../../shared/documents/packing-form.ts';
import { usualNotes } from '../../shared/documents/packing-notes.ts';
import { fieldUnitsOf } from '../../shared/settings/typed-units.ts';
import type { UnitSystem } from '../../shared/settings/units.ts';
import { formatLength, formatMass } from '../../shared/settings/units.ts';
import type { AnimalGroup } from '../../shared/species/columns.ts';
import { Actions, Button, LinkButton, PostButton } from '../layout/button.tsx';
import { Empty } from '../layout/empty.tsx';
import { FilledFrom } from '../layout/filled-from.tsx';
import { ErrorSummary, Field, Form, type FormState, fieldOf, SelectField } from '../layout/form.tsx';
import type { Furniture } from '../layout/furniture.ts';
import { Shell } from '../layout/shell.tsx';
import { type Column, DataTable } from '../layout/table.tsx';
import { WorkedOut } from '../layout/worked-out.tsx';

export type CupRow = {
  id: number;
  name: string;
  lengthMm: number;
  widthMm: number;
  heightMm: number;
  emptyMassG: number | null;
  retiredAt: number | null;
};

/** How a group or a species is packed; empty words are common practice. */
export type PackedRow = {
  key: string;
  href: string;
  name: string;
  isLatin: boolean;
  group: AnimalGroup;
  cup: string;
  animalsPerCup: number | null;
  ventilation: string;
  padding: string;
};

export type CupsPageProps = {
  furniture: Furniture;
  units: UnitSystem;
  mayEdit: boolean;
  cups: CupRow[];
  groups: PackedRow[];
  species: PackedRow[];
  habits: FormState;
};

/** Cups that may be chosen, for a list of choices. */
export const cupChoices = (cups: readonly CupRow[]) =>
  cups
    .filter(({ retiredAt }) => retiredAt === null)
    .map(({ id, name }) => ({ value: String(id), label: name }));

function Cups({ furniture, units, mayEdit, cups }: CupsPageProps) {
  const { locale } = furniture;
  const length = (lengthMm: number) => formatLength(lengthMm, units, locale);
  const columns: Column<CupRow>[] = [
    {
      key: 'name',
      head: 'Cup',
      rowHeader: true,
      cell: (cup) => (
        <>
          {mayEdit ? <a href={`/cups/${cup.id}/edit`}>{cup.name}</a> : cup.name}
          {cup.retiredAt !== null && <small class="under"> no longer used</small>}
        </>
      ),
    },
    {
      key: 'size',
      head: 'Outside',
      cell: (cup) =>
        cup.lengthMm === cup.widthMm
          ? `${length(cup.lengthMm)} across, ${length(cup.heightMm)} high`
          : `${length(cup.lengthMm)} × ${length(cup.widthMm)}, ${length(cup.heightMm)} high`,
    },
    {
      key: 'mass',
      head: 'Empty weight',
      numeric: true,
      cell: (cup) => (cup.emptyMassG === null ? 'not weighed' : formatMass(cup.emptyMassG, units, locale)),
    },
  ];
  const changing: Column<CupRow> = {
    key: 'change',
    head: 'Change',
    hideHead: true,
    phoneLabel: '',
    cell: (cup) => {
      const verb = cup.retiredAt === null ? 'Retire' : 'Bring back';
      return (
        <PostButton
          furniture={furniture}
          action={`/cups/${cup.id}/${cup.retiredAt === null ? 'retire' : 'bring-back'}`}
          label={verb}
          ariaLabel={`${verb} ${cup.name}`}
          kind="quiet"
          keyPart={`cup-${cup.id}`}
        />
      );
    },
  };
  return (
    <DataTable
      caption="Cups"
      columns={mayEdit ? [...columns, changing] : columns}
      rows={cups}
      rowKey={(cup) => cup.id}
    />
  );
}

function Note({ own, usual }: { own: string; usual: string }) {
  if (own !== '') return <>{own}</>;
  return (
    <>
      {usual}
      <small class="under"> common practice, no source</small>
    </>
  );
}

function Packed({ rows, caption, mayEdit }: { rows: PackedRow[]; caption: string; mayEdit: boolean }) {
  const columns: Column<PackedRow>[] = [
    {
      key: 'name',
      head: caption === 'Groups' ? 'Group' : 'Species',
      rowHeader: true,
      cell: (row) => {
        const name = row.isLatin ? <i lang="la">{row.name}</i> : row.name;
        return mayEdit ? <a href={row.href}>{name}</a> : name;
      },
    },
    { key: 'cup', head: 'Cup', cell: (row) => row.cup },
    {
      key: 'animals',
      head: 'In a cup',
      cell: (row) => (row.animalsPerCup === null ? 'one group' : `at most ${row.animalsPerCup} animals`),
    },
    {
      key: 'air',
      head: 'Air',
      phoneWide: true,
      cell: (row) => <Note own={row.ventilation} usual={usualNotes[row.group].ventilation} />,
    },
    {
      key: 'padding',
      head: 'Padding',
      phoneWide: true,
      cell: (row) => <Note own={row.padding} usual={usualNotes[row.group].padding} />,
    },
  ];
  return <DataTable caption={caption} columns={columns} rows={rows} rowKey={(row) => row.key} />;
}

function Habits({ furniture, units, cups, habits }: CupsPageProps) {
  return (
    <>
      <h2>For every parcel</h2>
      <Form furniture={furniture} action="/cups/habits" keyPart="habits">
        <FilledFrom form={habits} words={packingFieldWords} choices={{ cup: cupChoices(cups) }} />
        <ErrorSummary errors={habits.errors} labels={packingFieldWords} />
        <SelectField
          label="Usual cup"
          empty="not said"
          options={cupChoices(cups)}
          help="For groups and species that name no other."
          {...fieldOf(habits, 'cup')}
          optional
        />
        <Field
          label={packingFieldWords.room ?? ''}
          inputMode="decimal"
          size="short"
          unit={fieldUnitsOf(units).length}
          help={`A pack that would have less is refused on the packing sheet. ${formatLength(40, units, furniture.locale)} to begin with: common practice, no source.`}
          {...fieldOf(habits, 'room')}
          required
        />
        <Field
          label={packingFieldWords.heading ?? ''}
          maxLength={40}
          help="For the customs lines of parcels that leave the country. Ask your customs office; nothing is guessed."
          {...fieldOf(habits, 'heading')}
          optional
        />
        <Actions>
          <Button kind="main">Save</Button>
        </Actions>
      </Form>
    </>
  );
}

/** What animals travel in, how it is aired and padded: what packing sheets say of it. */
export function CupsPage(props: CupsPageProps) {
  const { furniture, cups, mayEdit, groups, species } = props;
  return (
    <Shell
      furniture={furniture}
      title="Cups and padding"
      purpose="What packing sheets say of cups, air and padding, what parcels weigh, and whether a pack fits over the cups."
      width="wide"
      breadcrumbs={mayEdit ? [{ href: '/settings', label: 'Settings' }] : []}
      actions={
        mayEdit && (
          <LinkButton href="/cups/new" kind="main">
            New cup
          </LinkButton>
        )
      }
    >
      {cups.length === 0 ? (
        <Empty title="No cups yet. Write down the cups you use, or begin with usual sizes and put in your own measures.">
          {mayEdit && (
            <PostButton
              furniture={furniture}
              action="/cups/starting"
              label="Begin with usual cups"
              keyPart="starting"
            />
          )}
        </Empty>
      ) : (
        <Cups {...props} />
      )}
      <Packed rows={groups} caption="Groups" mayEdit={mayEdit} />
      {species.length > 0 && <Packed rows={species} caption="Species for sale" mayEdit={mayEdit} />}
      <WorkedOut of={['cups', 'weight']} label="What becomes of these numbers" />
      {mayEdit && <Habits {...props} />}
    </Shell>
  );
}
