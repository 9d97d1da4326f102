import { Actions, Button } from '../layout/button.tsx';
import { ChoiceField, ErrorSummary, Field, Form, type FormState, fieldOf } from '../layout/form.tsx';
import type { Furniture } from '../layout/furniture.ts';
import { Shell } from '../layout/shell.tsx';
import { roleChoices } from './words.ts';

export function InvitePage({ furniture, form }: { furniture: Furniture; form: FormState }) {
  return (
    <Shell
      furniture={furniture}
      title="Invite somebody"
      purpose="You get a link to hand on. Whoever opens it chooses a sign-in name and a password."
      breadcrumbs={[{ href: '/people', label: 'People' }]}
    >
      <Form furniture={furniture} action="/people/invite">
        <ErrorSummary
          errors={form.errors}
          title="No link yet. What to mend:"
          labels={{ name: 'Name', role: 'Role' }}
        />
        <Field label="Name" required maxLength={120} help="Whom it is for." {...fieldOf(form, 'name')} />
        <ChoiceField label="Role" options={roleChoices} required {...fieldOf(form, 'role')} />
        <Actions>
          <Button kind="main">Make the link</Button>
        </Actions>
      </Form>
    </Shell>
  );
}
