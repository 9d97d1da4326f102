import type { UnitSystem } from '../../shared/settings/units.ts';
import { careHeadings, careHeadingWords } from '../../shared/species/columns.ts';
import { careField, speciesFieldWords } from '../../shared/species/form.ts';
import { layerFields, type TypedLayer } from '../../shared/species/form-layers.ts';
import { Actions, Button, LinkButton } from '../layout/button.tsx';
import { Latin } from '../layout/code.tsx';
import { FilledFrom } from '../layout/filled-from.tsx';
import { ErrorSummary, FieldSet, Form, type FormState, fieldOf, SelectField } from '../layout/form.tsx';
import type { Furniture } from '../layout/furniture.ts';
import { Notice } from '../layout/notice.tsx';
import { Shell } from '../layout/shell.tsx';
import { CareFields } from './form-care.tsx';
import { BeforeCounting, Limits, Rhythm, WhatStays } from './form-figures.tsx';
import { LayerFields } from './form-layers.tsx';
import { Names, StarterGroup } from './form-names.tsx';
import type { Safety } from './part-safety.tsx';

export type SpeciesFormPageProps = {
  furniture: Furniture;
  form: FormState;
  layers: TypedLayer[];
  enclosures: { id: number; name: string }[];
  /** The one that is edited; null makes a new one. */
  species: { id: number; scientificName: string; homeEnclosureId: number | null } | null;
  safety: Safety | null;
  units: UnitSystem;
  currency: string;
};

const words: Record<string, string> = {
  ...speciesFieldWords,
  ...Object.fromEntries(careHeadings.map((heading) => [careField(heading), careHeadingWords[heading]])),
};

/** The fields of the layers are told apart by their place. */
function layerWords(layers: readonly TypedLayer[]): Record<string, string> {
  const named: Record<string, string> = {};
  for (const [index, layer] of layers.entries()) {
    const i = index + 1;
    named[layerFields.name(i)] = `Layer ${i}, name`;
    named[layerFields.depth(i)] = `Layer ${i}, depth`;
    for (const [at] of layer.parts.entries()) {
      const j = at + 1;
      named[layerFields.material(i, j)] = `Layer ${i}, material ${j}`;
      named[layerFields.parts(i, j)] = `Layer ${i}, parts of material ${j}`;
      named[layerFields.settles(i, j)] = `Layer ${i}, settling of material ${j}`;
    }
  }
  return named;
}

function HomeField({ form, enclosures }: Pick<SpeciesFormPageProps, 'form' | 'enclosures'>) {
  return (
    <FieldSet legend="Home">
      <SelectField
        label="Home the customer is told to build"
        empty="None yet"
        options={enclosures.map(({ id, name }) => ({ value: String(id), label: name }))}
        {...fieldOf(form, 'homeEnclosureId')}
        help="The care sheet draws it to scale with these layers."
      />
    </FieldSet>
  );
}

export function SpeciesFormPage(props: SpeciesFormPageProps) {
  const { furniture, form, layers, species, safety, units, currency } = props;
  const action = species ? `/species/${species.id}/edit` : '/species';
  const back = species ? `/species/${species.id}` : '/species';
  const save = species ? 'Save' : 'Write it down';
  const isNew = species === null;
  return (
    <Shell
      furniture={furniture}
      title={species ? `Edit ${species.scientificName}` : 'New species'}
      heading={
        species ? (
          <>
            Edit <Latin>{species.scientificName}</Latin>
          </>
        ) : undefined
      }
      purpose="What is believed of it before anything is counted, what must stay, its rhythm and limits. Every figure can be changed later."
      width="wide"
      breadcrumbs={[
        { href: '/species', label: 'Species' },
        ...(species ? [{ href: back, label: species.scientificName }] : []),
      ]}
      actions={
        // First in the page, so that Enter in a field saves and does not add a row.
        <Button kind="main" form="species-form">
          {save}
        </Button>
      }
    >
      {isNew && (
        <Notice>
          The figures filled in are common practice without a source: a careful beginning. Change them to
          yours.
        </Notice>
      )}
      <Form furniture={furniture} action={action} id="species-form">
        {species && <FilledFrom form={form} words={{ ...words, layers: 'Layers' }} />}
        <ErrorSummary errors={form.errors} labels={{ ...words, ...layerWords(layers) }} />
        <Names form={form} />
        <StarterGroup {...{ form, currency, safety, isNew }} locale={furniture.locale} />
        <WhatStays form={form} isNew={isNew} />
        <BeforeCounting form={form} isNew={isNew} units={units} />
        <Rhythm form={form} isNew={isNew} />
        <Limits form={form} isNew={isNew} units={units} />
        <HomeField {...props} />
        <LayerFields form={form} layers={layers} action={action} units={units} />
        <CareFields form={form} />
        <Actions>
          <Button kind="main">{save}</Button>
          <LinkButton href={back}>Leave</LinkButton>
        </Actions>
      </Form>
    </Shell>
  );
}
