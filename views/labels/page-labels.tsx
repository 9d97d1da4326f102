import { type LabelFilter, mostLabels } from '../../shared/labels/form.ts';
import { cultureHref } from '../cultures/page-list.tsx';
import { Actions, Button } from '../layout/button.tsx';
import { Code, Latin } from '../layout/code.tsx';
import { Empty } from '../layout/empty.tsx';
import { chosenOf, FilterBar } from '../layout/filter-bar.tsx';
import { chosenPlace, chosenSpecies, PlaceFilter, SpeciesFilter } from '../layout/filter-choices.tsx';
import { ErrorSummary, Field, Form, type FormState, fieldOf, manyOf, SelectField } from '../layout/form.tsx';
import type { Furniture } from '../layout/furniture.ts';
import { Notice } from '../layout/notice.tsx';
import { Shell } from '../layout/shell.tsx';

type Row = {
  id: number;
  code: string;
  scientificName: string;
  morph: string;
  line: string | null;
  place: string | null;
  hasLabel: number;
};

export type LabelsPageProps = {
  furniture: Furniture;
  filter: LabelFilter;
  rows: Row[];
  /** There are more than one print can hold. */
  more: boolean;
  sheets: { id: number; name: string; nextLabel: number }[];
  species: { id: number; scientificName: string }[];
  places: { id: number; name: string }[];
  form: FormState;
  /** The service's address when no phone could open it. */
  onlyHere: string | null;
};

const whichOptions = [
  { value: 'new', label: 'No label yet' },
  { value: 'all', label: 'All kept now' },
];

function Filters({ filter, species, places }: Pick<LabelsPageProps, 'filter' | 'species' | 'places'>) {
  const which = filter.only ? 'all' : filter.which;
  const chosen = [
    chosenOf(whichOptions, which),
    chosenSpecies(species, filter.species),
    chosenPlace(places, filter.place),
  ];
  return (
    <FilterBar action="/labels" clearHref="/labels?which=all" chosen={chosen}>
      <SelectField label="Which" name="which" value={which} options={whichOptions} />
      <SpeciesFilter value={filter.species} species={species} />
      <PlaceFilter value={filter.place} places={places} />
    </FilterBar>
  );
}

function Ticks({ rows, form }: Pick<LabelsPageProps, 'rows' | 'form'>) {
  const { values, id } = manyOf(form, 'cultures');
  const chosen = new Set(values);
  return (
    <fieldset class="label-ticks">
      <legend>Cultures</legend>
      {rows.map((row, index) => (
        <label key={row.id} class="label-tick">
          <input
            type="checkbox"
            id={index === 0 ? id : `${id}-${index}`}
            name="cultures"
            value={row.id}
            checked={chosen.has(String(row.id))}
          />
          <span class="label-tick-words">
            <Code>{row.code}</Code> <Latin>{row.scientificName}</Latin>
            <span class="quiet">
              {' '}
              {[row.line && `line ${row.line}`, row.morph, row.place].filter(Boolean).join(', ')}
              {row.hasLabel ? ', has a label' : ''}
            </span>
          </span>
        </label>
      ))}
    </fieldset>
  );
}

function Sheet({ sheets, form }: Pick<LabelsPageProps, 'sheets' | 'form'>) {
  return (
    <>
      <SelectField
        label="Sheet"
        options={[
          ...sheets.map(({ id, name, nextLabel }) => ({
            value: String(id),
            label: nextLabel === 1 ? name : `${name} (used up to label ${nextLabel - 1})`,
          })),
          { value: '', label: 'Plain paper, cut by hand' },
        ]}
        {...fieldOf(form, 'sheet')}
      />
      <Field
        label="First label"
        type="number"
        size="short"
        {...fieldOf(form, 'first')}
        help="1 for a new sheet; on a part-used one the first that is left, counted along the rows."
      />
    </>
  );
}

function ChooseForm(props: LabelsPageProps) {
  const { furniture, filter, rows, form, more } = props;
  return (
    <Form furniture={furniture} action="/labels">
      <ErrorSummary
        errors={form.errors}
        title="No sheet yet. What to mend:"
        labels={{ cultures: 'Cultures', sheet: 'Sheet', first: 'First label' }}
      />
      <input type="hidden" name="which" value={filter.which} />
      {filter.species && <input type="hidden" name="species" value={filter.species} />}
      {filter.place && <input type="hidden" name="place" value={filter.place} />}
      {filter.only && <input type="hidden" name="only" value={filter.only.join(',')} />}
      <Sheet {...props} />
      <Actions>
        <Button kind="main">Look at the sheet</Button>
      </Actions>
      {more && (
        <Notice tone="plain">{`Only the first ${mostLabels} are shown; print these, then the rest.`}</Notice>
      )}
      <Ticks rows={rows} form={form} />
    </Form>
  );
}

export function LabelsPage(props: LabelsPageProps) {
  const { furniture, filter, rows, onlyHere } = props;
  const [single] = filter.only?.length === 1 ? rows : [];
  return (
    <Shell
      furniture={furniture}
      title="Labels"
      purpose="A code on every enclosure: scanned with a phone's camera, it opens the culture's check."
      breadcrumbs={[
        { href: '/cultures', label: 'Cultures' },
        ...(single ? [{ href: cultureHref(single.code), label: single.code }] : []),
      ]}
    >
      {onlyHere && (
        <Notice tone="needs-you">
          {`The codes would lead to ${onlyHere}, which a phone cannot open. Set BASE_URL to the address people use before you print.`}
        </Notice>
      )}
      <Filters {...props} />
      {rows.length === 0 ? (
        <Empty
          title={
            filter.which === 'new' ? 'Every culture here has its label.' : 'No culture fits these filters.'
          }
          step={{ href: '/labels?which=all', label: 'Show all cultures' }}
        />
      ) : (
        <ChooseForm {...props} />
      )}
      {furniture.who?.role === 'owner' && (
        <p>
          <a href="/label-sheets">Sheets of labels and their measures</a>
        </p>
      )}
    </Shell>
  );
}
