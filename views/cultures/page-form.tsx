import { Actions, Button, LinkButton } from '../layout/button.tsx';
import { FilledFrom } from '../layout/filled-from.tsx';
import {
  ChoiceField,
  ErrorSummary,
  Field,
  Form,
  type FormState,
  fieldOf,
  SelectField,
  TextAreaField,
} from '../layout/form.tsx';
import type { Furniture } from '../layout/furniture.ts';
import { Notice } from '../layout/notice.tsx';
import { Shell } from '../layout/shell.tsx';
import { cultureHref } from './page-list.tsx';

export type CultureChoices = {
  species: { id: number; scientificName: string; commonName: string }[];
  lines: { id: number; name: string; speciesId: number }[];
  enclosures: { id: number; name: string }[];
  places: { id: number; name: string }[];
};

export type CultureFormProps = {
  furniture: Furniture;
  form: FormState;
  choices: CultureChoices;
  /** The culture that is edited, with its species, which stays; null makes a new one. */
  edited: { id: number; code: string; speciesId: number } | null;
  today: string;
};

const labels: Record<string, string> = {
  code: 'Code',
  speciesId: 'Species',
  enclosureId: 'Enclosure',
  foundedOn: 'Founded on',
  foundingAnimals: 'Animals',
  origin: 'Where they came from',
};

const editedWords = {
  code: 'Code',
  morph: 'Morph',
  lineId: 'Line',
  enclosureId: 'Enclosure',
  note: 'Note',
};

const option = (id: number, label: string) => ({ value: String(id), label });
const choicesByField = ({ lines, enclosures }: CultureChoices) => ({
  lineId: lines.map(({ id, name }) => option(id, name)),
  enclosureId: enclosures.map(({ id, name }) => option(id, name)),
});
const chooseOne = { value: '', label: 'Choose one' };

function Founding({ form, today }: { form: FormState; today: string }) {
  return (
    <>
      <h2>The founding group</h2>
      <Field label="Founded on" type="date" max={today} {...fieldOf(form, 'foundedOn')} required />
      <ChoiceField
        label="Where they came from"
        options={[
          { value: 'wild', label: 'Collected in the wild' },
          { value: 'bought', label: 'Bought in' },
          { value: 'unknown', label: 'Not known' },
        ]}
        {...fieldOf(form, 'origin')}
        help="A culture that is split off another is written down with Split on the other's page."
        required
      />
      <Field
        label="Animals"
        inputMode="numeric"
        size="short"
        {...fieldOf(form, 'foundingAnimals')}
        required
      />
      <ChoiceField
        label="How sure is that number"
        options={[
          { value: 'exact', label: 'Counted' },
          { value: 'about', label: 'About', help: 'give or take a sixth' },
          { value: 'rough', label: 'Roughly', help: 'give or take half' },
        ]}
        {...fieldOf(form, 'founding')}
      />
    </>
  );
}

function PlaceField({ form, places }: { form: FormState; places: CultureChoices['places'] }) {
  return (
    <SelectField
      label="Place"
      options={[{ value: '', label: 'No place yet' }, ...places.map((p) => option(p.id, p.name))]}
      {...fieldOf(form, 'placeId')}
      optional
    />
  );
}

function Details({ form, choices, edited }: Pick<CultureFormProps, 'form' | 'choices' | 'edited'>) {
  const code = edited?.code ?? null;
  const lines = choices.lines.filter((l) => edited === null || l.speciesId === edited.speciesId);
  const named = (id: number) => choices.species.find((s) => s.id === id)?.scientificName ?? '';
  return (
    <>
      {code === null && (
        <SelectField
          label="Species"
          options={[
            chooseOne,
            ...choices.species.map((s) =>
              option(s.id, s.commonName ? `${s.scientificName} (${s.commonName})` : s.scientificName),
            ),
          ]}
          {...fieldOf(form, 'speciesId')}
          required
        />
      )}
      <Field
        label="Code"
        size="short"
        maxLength={24}
        {...fieldOf(form, 'code')}
        help={
          code === null
            ? 'Left empty, the next free one of the species is taken.'
            : 'Labels that are printed already bear the old one.'
        }
      />
      <Field label="Morph" maxLength={80} {...fieldOf(form, 'morph')} optional />
      <SelectField
        label="Line"
        options={[
          { value: '', label: 'No line' },
          ...lines.map((l) => option(l.id, code === null ? `${l.name} (${named(l.speciesId)})` : l.name)),
        ]}
        {...fieldOf(form, 'lineId')}
        optional
      />
      <SelectField
        label="Enclosure"
        options={[chooseOne, ...choices.enclosures.map((e) => option(e.id, e.name))]}
        help="Its litres of substrate decide how many animals it can hold."
        {...fieldOf(form, 'enclosureId')}
        required
      />
      {code === null && <PlaceField form={form} places={choices.places} />}
    </>
  );
}

export function CultureFormPage(props: CultureFormProps) {
  const { furniture, form, choices, edited, today } = props;
  const code = edited?.code ?? null;
  const missing = choices.species.length === 0 || choices.enclosures.length === 0;
  const back = code === null ? '/cultures' : cultureHref(code);
  return (
    <Shell
      furniture={furniture}
      title={code === null ? 'New culture' : `Edit ${code}`}
      purpose={
        code === null
          ? 'One enclosure with one colony in it.'
          : 'Its diary stays as it is. Moves are written in the diary.'
      }
      breadcrumbs={[{ href: '/cultures', label: 'Cultures' }]}
    >
      {missing && (
        <Notice tone="needs-you">
          A culture needs a species and an enclosure.{' '}
          {furniture.who?.role === 'owner' ? (
            <>
              Write down <a href="/species">what you keep</a> and <a href="/enclosures">what it lives in</a>{' '}
              first; the common species bring enclosures along.
            </>
          ) : (
            'The owner writes them down first.'
          )}
        </Notice>
      )}
      <Form furniture={furniture} action={code === null ? '/cultures' : `${cultureHref(code)}/edit`}>
        {edited && <FilledFrom form={form} words={editedWords} choices={choicesByField(choices)} />}
        {edited && <input type="hidden" name="culture" value={edited.id} />}
        <ErrorSummary errors={form.errors} labels={labels} />
        <Details {...props} />
        {code === null && <Founding form={form} today={today} />}
        <TextAreaField label="Note" rows={3} maxLength={4000} {...fieldOf(form, 'note')} optional />
        <Actions>
          <Button kind="main">{code === null ? 'Write it down' : 'Save'}</Button>
          <LinkButton href={back}>Leave</LinkButton>
        </Actions>
      </Form>
    </Shell>
  );
}
