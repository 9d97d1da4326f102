import type { ParcelChoice } from '../../shared/parcels/choice.ts';
import { PostButton } from '../layout/button.tsx';
import { Facts } from '../layout/facts.tsx';
import { formatDay, formatMoment, formatNumber } from '../layout/format.ts';
import type { Furniture } from '../layout/furniture.ts';
import { Notice } from '../layout/notice.tsx';
import { DataTable } from '../layout/table.tsx';
import { decidedWords, loadWords } from './say-packing.ts';

type Props = {
  furniture: Furniture;
  timeZone: string;
  choice: ParcelChoice;
  history: readonly (ParcelChoice & { endedAt: number | null })[];
  mayTakeBack: boolean;
  card: { number: number };
};

const when = (at: number, { timeZone, furniture }: Pick<Props, 'timeZone' | 'furniture'>) =>
  formatMoment(at, timeZone, furniture.locale);

function Before(props: Props) {
  const before = props.history.filter(({ endedAt }) => endedAt !== null);
  if (before.length === 0) return null;
  return (
    <details class="chart-table">
      <summary>What was decided before</summary>
      <DataTable
        caption="What was decided before"
        hideCaption
        rows={before}
        rowKey={({ id }) => id}
        columns={[
          { key: 'when', head: 'Decided', rowHeader: true, cell: ({ chosenAt }) => when(chosenAt, props) },
          { key: 'by', head: 'By', cell: ({ chosenBy }) => chosenBy ?? '' },
          { key: 'what', head: 'What', phoneWide: true, cell: (one) => decidedWords(one) },
        ]}
      />
    </details>
  );
}

/** What stands decided for a parcel, with who decided it. */
export function Decided(props: Props) {
  const { choice, furniture, mayTakeBack, card } = props;
  const { locale } = furniture;
  const load = loadWords({
    box: choice.box.name,
    pack: choice.pack?.name ?? null,
    packs: choice.packs,
    way: choice.isHeld ? 'held' : 'delivered',
  });
  const by = choice.dispatchBy ? `, taken until ${choice.dispatchBy}` : '';
  return (
    <section class="parcel-part" id="decided">
      <h2>Decided</h2>
      {choice.isOverride && (
        <Notice tone="harm" word="Sent although it was refused">
          {choice.why.join('; ')}. Reason: {choice.reason} It prints on the packing sheet.
        </Notice>
      )}
      <Facts
        items={[
          { term: 'Leaves', value: `${formatDay(choice.dispatchOn, locale, 'weekday')}${by}` },
          { term: 'Arrives', value: formatDay(choice.arrivesOn, locale, 'weekday') },
          { term: 'In', value: load, note: choice.isTaken ? 'taken out of the stock' : undefined },
          { term: 'By', value: choice.carrier.name },
          {
            term: 'On the way',
            computed: 'parcel',
            value: `about ${formatNumber(choice.transitHours, locale)} h`,
          },
          {
            term: 'Decided',
            value: `${when(choice.chosenAt, props)}${choice.chosenBy ? ` by ${choice.chosenBy}` : ''}`,
          },
        ]}
      />
      {mayTakeBack && !choice.isTaken && (
        <PostButton
          furniture={furniture}
          action={`/parcels/orders/${card.number}/take-back`}
          label="Take this decision back"
          fields={{ choice: choice.id }}
          kind="quiet"
        />
      )}
      <Before {...props} />
    </section>
  );
}
