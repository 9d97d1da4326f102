import { Button } from '../layout/button.tsx';
import { Form, SelectField } from '../layout/form.tsx';
import { formatCount } from '../layout/format.ts';
import type { Furniture } from '../layout/furniture.ts';
import type { CountNextRow } from './page-count-next.tsx';
import { sayGroups, sayMinutes } from './say-count-next.ts';

/** "the first 3: about 90 minutes for about 6 groups". */
function choice(rows: readonly CountNextRow[], locale?: string) {
  const minutes = rows.reduce((sum, row) => sum + row.minutes, 0);
  const gain = rows.reduce((sum, row) => sum + (row.gain?.gain ?? 0), 0);
  const which = rows.length === 1 ? 'the first one' : `the first ${rows.length}`;
  return {
    value: String(rows.length),
    label: `${which}: ${sayMinutes(minutes, locale)} for ${sayGroups(gain, locale)}`,
  };
}

/** Hands the first few counts of the list, as it is seen here, to the helpers' round of today. */
export function HandOver({ furniture, first }: { furniture: Furniture; first: readonly CountNextRow[] }) {
  const open = first.filter((row) => !row.askedToday).slice(0, 10);
  const already = first.length - first.filter((row) => !row.askedToday).length;
  if (open.length === 0)
    return already > 0 ? (
      <p>
        {formatCount(already, 'count')} of this list {already === 1 ? 'is' : 'are'} on{' '}
        <a href="/round">today's round</a>.
      </p>
    ) : null;
  const choices = open.map((_, i) => choice(open.slice(0, i + 1), furniture.locale));
  return (
    <Form furniture={furniture} action="/surplus/count-next" class="hand-over" ariaLabel="Hand counts over">
      {open.map(({ code }) => (
        <input key={code} type="hidden" name="codes" value={code} />
      ))}
      <SelectField
        label="Hand to today's round"
        name="first"
        value={String(Math.min(3, open.length))}
        options={choices}
      />
      <Button kind="main">Hand over</Button>
      <p class="quiet">
        {already > 0
          ? `${formatCount(already, 'count')} of this list ${already === 1 ? 'is' : 'are'} on the round already.`
          : 'The helpers see them at their place on the round, and they fall away with the day.'}
      </p>
    </Form>
  );
}
