import type { ComponentChildren } from 'preact';
import { inPart } from '../../shared/checks/round-address.ts';
import { Button } from '../layout/button.tsx';
import { classes } from '../layout/classes.ts';
import { Form } from '../layout/form.tsx';
import { formatNumber } from '../layout/format.ts';
import type { FormFurniture, Furniture } from '../layout/furniture.ts';
import { RoundRow, type RoundRowData } from './part-round-row.tsx';

/** What stands together and is walked past together: a shelf, or what is in quarantine. */
export type PlaceRows = {
  /** Tells the places of a round apart, in an address too. */
  key: string;
  /** The shelf, or a place that has none; null for what stands nowhere and for quarantine. */
  placeId: number | null;
  name: string | null;
  isQuarantine: boolean;
  /** What is due or done there today, as far as it stands on this page. */
  rows: RoundRowData[];
  /** Of a place that is divided: which of its rows these are, counted from 1, and of how many. */
  piece: { first: number; last: number; of: number } | null;
};

/** How a place of the round is called in a list. */
export const placeName = ({ name, isQuarantine }: Pick<PlaceRows, 'name' | 'isQuarantine'>) =>
  isQuarantine ? 'Quarantine' : (name ?? 'No place yet');

export const placeHeading = ({ name, isQuarantine }: Pick<PlaceRows, 'name' | 'isQuarantine'>) =>
  isQuarantine ? 'Quarantine: last, with clean hands and tools of its own' : (name ?? 'No place yet');

type PlaceProps = { furniture: Furniture; place: PlaceRows; part: number | null };

/** A whole place at once, where more than one culture there wants a look and is well. */
function WholePlace({ furniture, place, part }: PlaceProps) {
  const codes = place.rows
    .filter((row) => row.health === 'well' && row.open.some(({ what }) => what === 'check'))
    .map((row) => row.code);
  if (place.isQuarantine || codes.length < 2) return null;
  return (
    <Form
      furniture={furniture}
      action={`/round/all-well${inPart(part)}`}
      keyPart={`at-${place.rows[0]?.code.replace(/[^\w.-]/g, '_')}`}
      class="post-button round-whole"
      ariaLabel={`All of ${placeHeading(place)}`}
    >
      {codes.map((code) => (
        <input key={code} type="hidden" name="codes" value={code} />
      ))}
      <Button>
        {place.piece ? `All ${codes.length} shown here are well` : `All ${codes.length} here are well`}
      </Button>
    </Form>
  );
}

/** "61 to 120 of 180": which of a divided place's rows stand here. */
function Piece({ piece, locale }: { piece: PlaceRows['piece']; locale?: string }) {
  if (!piece) return null;
  const number = (value: number) => formatNumber(value, locale);
  return (
    <span class="round-piece">
      {' '}
      {number(piece.first)} to {number(piece.last)} of {number(piece.of)}
    </span>
  );
}

/** A place of the round with its rows, and before them what there is to say of the place itself. */
export function RoundPlace(props: PlaceProps & { children?: ComponentChildren }) {
  const { furniture, place, part, children } = props;
  return (
    <section
      id={`place-${place.key}`}
      class={classes('round-stop', place.isQuarantine && 'round-stop-last')}
      aria-label={placeHeading(place)}
    >
      <div class="round-stop-head">
        <h2>
          {placeHeading(place)}
          <Piece piece={place.piece} locale={furniture.locale} />
        </h2>
        <WholePlace furniture={furniture} place={place} part={part} />
      </div>
      {children}
      <ul class="round-list">
        {place.rows.map((row) => (
          <RoundRow key={row.code} furniture={furniture} row={row} part={part} />
        ))}
      </ul>
    </section>
  );
}

/** The form of the ticked rows: its buttons stay under the thumb while something is open. */
export function ManyBar(props: { furniture: FormFurniture; part: number | null; did: boolean }) {
  const { furniture, part, did } = props;
  return (
    <form
      id="round-many"
      class="round-many"
      method="post"
      action={`/round/all-well${inPart(part)}`}
      aria-label="Ticked cultures"
    >
      <input type="hidden" name="_csrf" value={furniture.csrfToken} />
      <input type="hidden" name="formKey" value={`${furniture.formKey}.many`} />
      <span>The ticked ones:</span>
      <Button kind="main">All well</Button>
      {did && (
        <Button name="did" value="yes">
          All well, did what was due
        </Button>
      )}
    </form>
  );
}
