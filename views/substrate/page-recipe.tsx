import type { Section } from '../../shared/enclosures/section.ts';
import type { EnclosureMeasures } from '../../shared/enclosures/volume.ts';
import type { UnitSystem } from '../../shared/settings/units.ts';
import type { TypedLayer } from '../../shared/species/form-layers.ts';
import type { RecipeSource } from '../../shared/substrate/starting-recipe.ts';
import { SectionDrawing, sectionLabel } from '../enclosures/part-section.tsx';
import { measureWords } from '../enclosures/say.ts';
import { Actions, Button, LinkButton, PostButton } from '../layout/button.tsx';
import { Latin } from '../layout/code.tsx';
import { FilledFrom } from '../layout/filled-from.tsx';
import { ErrorSummary, Form, type FormState } from '../layout/form.tsx';
import type { Furniture } from '../layout/furniture.ts';
import { Shell } from '../layout/shell.tsx';
import { LayerFields } from '../species/form-layers.tsx';
import { recipeWords } from './say.ts';

export type RecipePageProps = {
  furniture: Furniture;
  species: { id: number; scientificName: string };
  enclosure: { id: number; name: string; measures: EnclosureMeasures };
  /** Where the stored recipe comes from, and how it lies. */
  from: RecipeSource;
  section: Section;
  hasOwn: boolean;
  units: UnitSystem;
  form: FormState;
  layers: TypedLayer[];
};

/** The recipe of a species' cultures in one kind of enclosure. */
export function RecipePage(props: RecipePageProps) {
  const { furniture, species, enclosure, from, section, hasOwn, units, form, layers } = props;
  const { locale } = furniture;
  const action = `/substrate/recipes/${species.id}/${enclosure.id}`;
  return (
    <Shell
      furniture={furniture}
      title={`Recipe for ${species.scientificName} in the ${enclosure.name}`}
      heading={
        <>
          <Latin>{species.scientificName}</Latin> in the {enclosure.name}
        </>
      }
      purpose={`What is mixed for it. ${measureWords(enclosure.measures, units, locale)}. Now by ${recipeWords[from]}.`}
      width="wide"
      breadcrumbs={[{ href: '/substrate', label: 'Substrate' }]}
    >
      <div class="columns">
        <Form furniture={furniture} action={action}>
          <FilledFrom form={form} words={{ layers: 'Layers' }} />
          <ErrorSummary errors={form.errors} labels={{}} />
          <LayerFields form={form} layers={layers} action={action} units={units} />
          <Actions>
            <Button kind="main">Save this recipe</Button>
            <LinkButton href="/substrate">Leave</LinkButton>
          </Actions>
        </Form>
        <div>
          <h2>As it is stored</h2>
          <SectionDrawing
            section={section}
            units={units}
            locale={locale}
            label={sectionLabel(section, units, locale)}
            prefix="recipe"
          />
          {hasOwn && (
            <PostButton
              furniture={furniture}
              action={`${action}/drop`}
              label="No recipe of its own any more"
              kind="quiet"
            />
          )}
        </div>
      </div>
    </Shell>
  );
}
