import type { UnitSystem } from '../../shared/settings/units.ts';
import { standingCautions } from '../../shared/species/cautions.ts';
import {
  type AnimalGroup,
  type CareText,
  careHeadings,
  careHeadingWords,
  type SpeciesFigures,
  type SubstrateLayer,
} from '../../shared/species/columns.ts';
import { Actions, LinkButton, PostButton } from '../layout/button.tsx';
import { Latin } from '../layout/code.tsx';
import { Facts } from '../layout/facts.tsx';
import { formatCount } from '../layout/format.ts';
import type { Furniture } from '../layout/furniture.ts';
import { Notice } from '../layout/notice.tsx';
import { Shell } from '../layout/shell.tsx';
import { DataTable } from '../layout/table.tsx';
import { Computed, WorkedOut } from '../layout/worked-out.tsx';
import { type LineRow, lineColumns } from '../lines/page-lines.tsx';
import { everyWords, priceWords } from './page-list.tsx';
import { Beliefs, Staying } from './part-beliefs.tsx';
import { type Home, HomeDrawing } from './part-home.tsx';
import { Temperatures } from './part-temperatures.tsx';
import { groupWords, safetyWords, starterGroupWords } from './say.ts';
import { sayStart } from './say-worked-out.ts';

export type SpeciesPageProps = {
  furniture: Furniture;
  species: SpeciesFigures & {
    id: number;
    scientificName: string;
    commonName: string;
    animalGroup: AnimalGroup;
    cautions: string;
  };
  retired: boolean;
  care: CareText;
  layers: SubstrateLayer[];
  home: Home | null;
  /** The chance that a starter group makes a start; null where that cannot be said. */
  safety: number | null;
  /** Kept now, quarantine among them. */
  cultures: number;
  lines: LineRow[];
  units: UnitSystem;
  currency: string;
  mayEdit: boolean;
};

function Glance({ species, safety, cultures, currency, furniture }: SpeciesPageProps) {
  const animals = species.groupAdults + species.groupJuveniles;
  return (
    <Facts
      items={[
        { term: 'Kind', value: groupWords[species.animalGroup] },
        {
          term: 'Cultures',
          value:
            cultures > 0 ? (
              <a href={`/cultures?species=${species.id}`}>{formatCount(cultures, 'culture')}</a>
            ) : (
              'none yet'
            ),
        },
        {
          term: 'Starter group',
          value: starterGroupWords(species),
          note: safety !== null && (
            <Computed of="start">{safetyWords(animals, species, safety, furniture.locale)}</Computed>
          ),
        },
        { term: 'Price of a group', value: priceWords(species, currency, furniture.locale) },
        {
          term: 'Rhythm',
          value: `a look ${everyWords(species.checkEveryDays)}, food ${everyWords(species.feedEveryDays)}${
            species.substrateMonths === null
              ? ''
              : `, substrate renewed every ${formatCount(species.substrateMonths, 'month')}`
          }`,
        },
      ]}
    />
  );
}

function AtAGlance(props: SpeciesPageProps) {
  const { species, safety, furniture } = props;
  return (
    <>
      <Glance {...props} />
      {safety !== null && (
        <WorkedOut
          of="start"
          so={sayStart(species.groupAdults + species.groupJuveniles, species, furniture.locale)}
        />
      )}
    </>
  );
}

function Care({ care }: { care: CareText }) {
  const written = careHeadings.filter((heading) => care[heading] !== '');
  if (written.length === 0) return <p class="quiet">No care text yet. It goes onto the care sheet.</p>;
  return (
    <dl class="care">
      {written.map((heading) => (
        <div key={heading}>
          <dt>{careHeadingWords[heading]}</dt>
          <dd>
            {care[heading].split('\n').map((line) => (
              <p key={line}>{line}</p>
            ))}
          </dd>
        </div>
      ))}
    </dl>
  );
}

/** The species' own, then those that hold for every one. */
function Cautions({ cautions }: { cautions: string }) {
  const own = cautions.split('\n').filter((line) => line.trim() !== '');
  return (
    <>
      {own.length === 0 && (
        <Notice tone="needs-you">
          No cautions of its own are written down. What must a customer and a helper know?
        </Notice>
      )}
      <Notice tone="harm" word="Cautions">
        <ul class="cautions">
          {[...own, ...standingCautions].map((line) => (
            <li key={line}>{line}</li>
          ))}
        </ul>
      </Notice>
    </>
  );
}

function Lines({ species, lines, mayEdit }: SpeciesPageProps) {
  return (
    <section>
      <h2>Lines</h2>
      {lines.length > 0 && (
        <DataTable
          caption="Lines"
          hideCaption
          columns={lineColumns({ mayEdit, withSpecies: false })}
          rows={lines}
          rowKey={(row) => row.id}
        />
      )}
      {lines.length === 0 && <p class="quiet">No lines yet.</p>}
      <Actions>
        {mayEdit && <LinkButton href={`/lines/new?species=${species.id}`}>New line</LinkButton>}
        <LinkButton href={`/lines/graph?species=${species.id}`}>Splits and mixings</LinkButton>
      </Actions>
    </section>
  );
}

function Believed({ furniture, species, home, units }: SpeciesPageProps) {
  return (
    <section>
      <h2>Believed before counting</h2>
      <Beliefs figures={species} home={home} units={units} locale={furniture.locale} />
      <p>
        <a href={`/species/${species.id}/detection`}>What full counts teach of the share seen</a>
      </p>
    </section>
  );
}

function Retire({ furniture, species, retired }: SpeciesPageProps) {
  const action = `/species/${species.id}/${retired ? 'bring-back' : 'retire'}`;
  return (
    <section class="slip apart">
      <h2>{retired ? 'Retired' : 'No longer bred?'}</h2>
      <p>
        {retired
          ? 'It takes no new cultures and no new orders. Cultures that are kept stay in the round.'
          : 'A retired species takes no new cultures and no new orders. Cultures that are kept stay in the round, and it can be brought back.'}
      </p>
      <PostButton
        furniture={furniture}
        action={action}
        label={retired ? 'Bring it back' : 'Retire this species'}
        keyPart="retire"
      />
    </section>
  );
}

export function SpeciesPage(props: SpeciesPageProps) {
  const { furniture, species, retired, care, layers, home, units, mayEdit } = props;
  const { locale } = furniture;
  return (
    <Shell
      furniture={furniture}
      title={species.scientificName}
      heading={<Latin>{species.scientificName}</Latin>}
      purpose={`${species.commonName ? `${species.commonName}: h` : 'H'}ow it is kept, counted and sold; what is believed of it until your counts say more.`}
      width="wide"
      breadcrumbs={[{ href: '/species', label: 'Species' }]}
      actions={
        <>
          {mayEdit && (
            <LinkButton href={`/species/${species.id}/edit`} kind="main">
              Edit
            </LinkButton>
          )}
          {mayEdit && <LinkButton href={`/species/${species.id}/care`}>Care texts</LinkButton>}
          {mayEdit && <LinkButton href={`/species/${species.id}/development`}>Development</LinkButton>}
          <LinkButton href={`/species/${species.id}/care-sheet.pdf`}>Care sheet (PDF)</LinkButton>
        </>
      }
    >
      {retired && <Notice>This species is retired: no new cultures, no new orders.</Notice>}
      {species.sellable && species.priceMinor === 0 && (
        <Notice tone="needs-you">A starter group has no price yet.</Notice>
      )}
      <div class="columns">
        <div>
          <h2>At a glance</h2>
          <AtAGlance {...props} />
          <Cautions cautions={species.cautions} />
          <h2>Temperature</h2>
          <Temperatures limits={species} units={units} locale={locale} />
          <h2>Home</h2>
          {home ? (
            <HomeDrawing home={home} layers={layers} units={units} locale={locale} />
          ) : (
            <p class="quiet">No enclosure is chosen as the customer’s home yet.</p>
          )}
        </div>
        <div>
          <h2>Care</h2>
          <Care care={care} />
        </div>
      </div>
      <div class="columns">
        <Believed {...props} />
        <section>
          <h2>What stays, and how it breeds</h2>
          <Staying figures={species} />
        </section>
      </div>
      <Lines {...props} />
      {mayEdit && <Retire {...props} />}
    </Shell>
  );
}
