import { sayFeeders } from '../feeders/say-worked-out.ts';
import { ErrorSummary, Form, type FormState } from '../layout/form.tsx';
import type { Furniture } from '../layout/furniture.ts';
import { Shell } from '../layout/shell.tsx';
import { Computed, WorkedOut } from '../layout/worked-out.tsx';
import type { StartData } from './part-starts.tsx';
import { PutOffFields, putOffLabels } from './put-off-fields.tsx';
import { startWords } from './say-round.ts';

/** Leaving a start of feeder cultures for another day, with the reason that whoever comes next will read. */
export function PutOffStartPage(props: { furniture: Furniture; start: StartData; form: FormState }) {
  const { furniture, start, form } = props;
  return (
    <Shell
      furniture={furniture}
      title={`Put off: ${startWords(start).toLowerCase()}`}
      heading={
        <>
          Put off: <Computed of="feeders">{startWords(start).toLowerCase()}</Computed>
        </>
      }
      purpose="The weeks that run short stay on the feeder plan."
      breadcrumbs={[{ href: '/round', label: 'Round' }]}
    >
      <Form furniture={furniture} action={`/round/starts/${start.feederId}/put-off`}>
        <ErrorSummary errors={form.errors} labels={putOffLabels} />
        <PutOffFields form={form} examples="no jars left, medium comes on Friday" />
      </Form>
      <WorkedOut of="feeders" so={sayFeeders(start.plan, furniture.locale)} />
    </Shell>
  );
}
