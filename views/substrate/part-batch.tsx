import type { Section } from '../../shared/enclosures/section.ts';
import { shownNumber } from '../../shared/settings/typed-units.ts';
import type { UnitSystem } from '../../shared/settings/units.ts';
import { formatLength } from '../../shared/settings/units.ts';
import type { PlanKind } from '../../shared/splits/plan-form.ts';
import type { Batch } from '../../shared/substrate/batches.ts';
import type { RecipeSource } from '../../shared/substrate/starting-recipe.ts';
import { cultureHref } from '../cultures/page-list.tsx';
import { SectionDrawing, sectionLabel } from '../enclosures/part-section.tsx';
import { Code } from '../layout/code.tsx';
import { Notice } from '../layout/notice.tsx';
import { DataTable } from '../layout/table.tsx';
import { bothVolumes, recipeWords } from './say.ts';

export type BatchOrigin = {
  plan: { id: number; what: PlanKind; code: string; enclosures: number; speciesId: number };
  from: RecipeSource;
};
export type BatchData = Batch<BatchOrigin> & { section: Section };

type BatchProps = {
  batch: BatchData;
  spare: number;
  units: UnitSystem;
  locale: string | undefined;
  mayEdit: boolean;
  /** Begins the ids inside the drawing. */
  prefix: string;
};

/** One row for each material of each layer, from the top layer down, as they lie in the drawing. */
function mixRows({ batch, units, locale }: BatchProps) {
  const { mix, layers, forAll } = batch;
  return layers
    .map((layer, i) =>
      layer.parts.map((part, at) => {
        const litres = mix?.layers[i]?.materials[at]?.litres ?? 0;
        return {
          key: `${i}-${at}`,
          material: part.material,
          parts: shownNumber(part.parts, 2),
          one: bothVolumes(litres, units, locale),
          all: bothVolumes(litres * forAll, units, locale),
          layer: layer.name,
          depth: formatLength(layer.depthMm, units, locale),
        };
      }),
    )
    .reverse()
    .flat();
}

function MixTable(props: BatchProps) {
  return (
    <DataTable
      caption={`Mix for ${props.batch.enclosures} × ${props.batch.enclosure.name}`}
      hideCaption
      rows={mixRows(props)}
      rowKey={(row) => row.key}
      columns={[
        { key: 'material', head: 'Material', rowHeader: true, cell: (row) => row.material },
        {
          key: 'all',
          head: 'Mix in all',
          numeric: true,
          computed: 'substrate',
          cell: (row) => <strong>{row.all}</strong>,
        },
        { key: 'parts', head: 'Parts', numeric: true, hideOnPhone: true, cell: (row) => row.parts },
        { key: 'one', head: 'For one', numeric: true, computed: 'substrate', cell: (row) => row.one },
        { key: 'layer', head: 'Layer', cell: (row) => `${row.layer}, ${row.depth}` },
      ]}
    />
  );
}

/** The sources of a batch's recipes, each once, with where the owner changes them. */
function Sources({ batch, mayEdit }: BatchProps) {
  const bySpecies = new Map(batch.origins.map((origin) => [origin.plan.speciesId, origin]));
  const words = new Set(batch.origins.map(({ from }) => recipeWords[from]));
  return (
    <p class="quiet">
      By {[...words].join('; ')}.
      {mayEdit &&
        [...bySpecies.keys()].map((speciesId, i) => (
          <span key={speciesId} class="not-printed">
            {' '}
            <a href={`/substrate/recipes/${speciesId}/${batch.enclosure.id}`}>
              Change the recipe{bySpecies.size > 1 && ` (${i + 1})`}
            </a>
          </span>
        ))}
    </p>
  );
}

/** What is mixed for all enclosures of a kind that get the same, and how it lies in one. */
export function BatchPart(props: BatchProps) {
  const { batch, units, locale, prefix } = props;
  return (
    <section class="slip batch" aria-label={`${batch.enclosures} × ${batch.enclosure.name}`}>
      <h3>
        {batch.enclosures} × {batch.enclosure.name}
      </h3>
      <p>
        For{' '}
        {batch.origins.map(({ plan }, i) => (
          <span key={plan.id}>
            {i > 0 && ', '}
            <Code href={cultureHref(plan.code)}>{plan.code}</Code>
            {plan.enclosures > 1 && ` (${plan.enclosures})`}
          </span>
        ))}
      </p>
      {batch.fault ? (
        <Notice tone="needs-you">{batch.fault} Change the recipe, or plan a higher enclosure.</Notice>
      ) : (
        <div class="columns">
          <MixTable {...props} />
          <div class="section-frame">
            <SectionDrawing
              section={batch.section}
              units={units}
              locale={locale}
              label={sectionLabel(batch.section, units, locale)}
              prefix={prefix}
            />
          </div>
        </div>
      )}
      <Sources {...props} />
    </section>
  );
}
