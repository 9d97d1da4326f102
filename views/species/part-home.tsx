import type { Section } from '../../shared/enclosures/section.ts';
import type { EnclosureMeasures } from '../../shared/enclosures/volume.ts';
import { shownNumber } from '../../shared/settings/typed-units.ts';
import { formatLength, formatVolume, type UnitSystem } from '../../shared/settings/units.ts';
import type { SubstrateLayer } from '../../shared/species/columns.ts';
import type { SubstrateMix } from '../../shared/species/substrate.ts';
import { SectionDrawing, sectionLabel } from '../enclosures/part-section.tsx';
import { measureWords } from '../enclosures/say.ts';
import { ChartFrame } from '../layout/chart-frame.tsx';
import { Notice } from '../layout/notice.tsx';
import { DataTable } from '../layout/table.tsx';
import { WorkedOut } from '../layout/worked-out.tsx';

export type Home = {
  name: string;
  measures: EnclosureMeasures;
  ventilation: string;
  substrateLitres: number;
  section: Section;
  /** Null where the layers do not fit, or there are none. */
  mix: SubstrateMix | null;
};

type HomeProps = { home: Home; layers: SubstrateLayer[]; units: UnitSystem; locale: string | undefined };

/** One row for each material of each layer, from the top layer down, as they lie in the drawing. */
function recipeRows({ home, layers, units, locale }: HomeProps) {
  return layers
    .flatMap((layer, i) =>
      layer.parts.map((part, at) => ({
        key: `${i}-${at}`,
        layer: at === 0 ? layer.name : '',
        depth: at === 0 ? formatLength(layer.depthMm, units, locale) : '',
        material: part.material,
        parts: shownNumber(part.parts, 2),
        amount: home.mix ? formatVolume(home.mix.layers[i]?.materials[at]?.litres ?? 0, units, locale) : '',
        order: -i,
      })),
    )
    .sort((a, b) => a.order - b.order);
}

function Recipe(props: HomeProps) {
  return (
    <>
      <DataTable
        caption={`Substrate for one ${props.home.name}`}
        rows={recipeRows(props)}
        rowKey={(row) => row.key}
        columns={[
          { key: 'material', head: 'Material', rowHeader: true, cell: (row) => row.material },
          { key: 'parts', head: 'Parts', numeric: true, cell: (row) => row.parts },
          {
            key: 'amount',
            head: 'Loose, for one',
            numeric: true,
            computed: 'substrate',
            cell: (row) => row.amount,
          },
          { key: 'layer', head: 'Layer', cell: (row) => row.layer },
          { key: 'depth', head: 'Depth', numeric: true, cell: (row) => row.depth },
        ]}
      />
      <WorkedOut of="substrate">
        <p>
          The volume of each layer follows from the enclosure’s inside measures and the layer’s depth. Parts
          are measured loose; a material that settles takes more of it, so that the layer is full once it
          lies.
        </p>
      </WorkedOut>
    </>
  );
}

/** The customer's home, drawn to scale, and what to mix for it. */
export function HomeDrawing(props: HomeProps) {
  const { home, layers, units, locale } = props;
  const { section } = home;
  return (
    <>
      {section.overflowMm > 0 && (
        <Notice tone="needs-you">
          The layers stand {formatLength(section.overflowMm, units, locale)} above the rim of the {home.name}.
          Choose a higher home or thinner layers.
        </Notice>
      )}
      <ChartFrame
        finding={`${home.name}: ${measureWords(home.measures, units, locale)}`}
        caption={home.ventilation || undefined}
        tableLabel="What to mix"
        table={layers.length > 0 ? <Recipe {...props} /> : <p>No layers are written down yet.</p>}
      >
        <SectionDrawing
          section={section}
          units={units}
          locale={locale}
          label={sectionLabel(section, units, locale)}
          prefix="home"
        />
      </ChartFrame>
    </>
  );
}
