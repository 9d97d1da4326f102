import { Actions, Button, LinkButton, PostButton } from '../layout/button.tsx';
import { FilledFrom } from '../layout/filled-from.tsx';
import { ChoiceField, Form, type FormState, fieldOf } from '../layout/form.tsx';
import type { Furniture } from '../layout/furniture.ts';
import { Moment } from '../layout/number.tsx';
import { Shell } from '../layout/shell.tsx';
import { DataTable } from '../layout/table.tsx';
import { roleWords } from './words.ts';

export type PersonLine = {
  id: string;
  name: string;
  signInName: string;
  role: 'owner' | 'helper';
  active: boolean;
  waitsForPassword: boolean;
  openSessions: number;
  lastSessionAt: number | null;
};

export type InvitationLine = {
  key: string;
  name: string;
  role: 'owner' | 'helper';
  madeAt: number;
  expiresAt: number;
};

export type PeoplePageProps = {
  furniture: Furniture;
  people: readonly PersonLine[];
  invitations: readonly InvitationLine[];
  /** Who must use a code. */
  must: FormState;
  timeZone: string;
  locale: string;
};

export function stateOf(person: { active: boolean; waitsForPassword: boolean }): string {
  if (!person.active) return 'Not active';
  return person.waitsForPassword ? 'Waits for a new password' : 'Active';
}

export function PeoplePage(props: PeoplePageProps) {
  const { furniture, people, timeZone, locale } = props;
  return (
    <Shell
      furniture={furniture}
      title="People"
      purpose="Who works here, and what they may do."
      width="wide"
      actions={
        <LinkButton href="/people/invite" kind="main">
          Invite somebody
        </LinkButton>
      }
    >
      <DataTable
        caption="People"
        hideCaption
        rows={people}
        rowKey={(person) => person.id}
        columns={[
          {
            key: 'name',
            head: 'Name',
            phoneWide: true,
            cell: (person) => <a href={`/people/${person.id}`}>{person.name}</a>,
          },
          { key: 'sign-in-name', head: 'Sign-in name', phoneWide: true, cell: (person) => person.signInName },
          { key: 'role', head: 'Role', cell: (person) => roleWords[person.role] },
          { key: 'state', head: 'State', cell: stateOf },
          {
            key: 'sessions',
            head: 'Open sessions',
            numeric: true,
            cell: (person) => person.openSessions,
          },
          {
            key: 'last',
            head: 'Last signed in',
            cell: (person) =>
              person.lastSessionAt === null ? (
                'no open session'
              ) : (
                <Moment at={person.lastSessionAt} timeZone={timeZone} locale={locale} />
              ),
          },
        ]}
      />
      <Invitations {...props} />
      <CodeSection {...props} />
    </Shell>
  );
}

const whoChoices = [
  { value: 'nobody', label: 'Nobody has to', help: 'everybody may, on their account page' },
  { value: 'owners', label: 'Owners', help: 'they see customers, people and money' },
  { value: 'everybody', label: 'Everybody' },
];

const mustWords = { secondFactor: 'Who must use a code' };

function CodeSection({ furniture, must }: PeoplePageProps) {
  return (
    <section aria-labelledby="who-must-title">
      <h2 id="who-must-title">A code from the phone at sign-in</h2>
      <Form furniture={furniture} action="/people/second-factor" keyPart="who-must">
        <FilledFrom form={must} words={mustWords} choices={{ secondFactor: whoChoices }} />
        <ChoiceField
          label={mustWords.secondFactor}
          options={whoChoices}
          {...fieldOf(must, 'secondFactor')}
          help="Whoever has none is led to setting it up at the next page they open."
        />
        <Actions>
          <Button>Save</Button>
        </Actions>
      </Form>
    </section>
  );
}

function Invitations({ furniture, invitations, timeZone, locale }: PeoplePageProps) {
  if (invitations.length === 0) return null;
  return (
    <section aria-labelledby="invitations-title">
      <h2 id="invitations-title">Open invitations</h2>
      <DataTable
        caption="Open invitations"
        hideCaption
        rows={invitations}
        rowKey={(invitation) => invitation.key}
        columns={[
          { key: 'name', head: 'For', phoneWide: true, cell: (invitation) => invitation.name },
          { key: 'role', head: 'Role', cell: (invitation) => roleWords[invitation.role] },
          {
            key: 'made',
            head: 'Made',
            cell: (invitation) => <Moment at={invitation.madeAt} timeZone={timeZone} locale={locale} />,
          },
          {
            key: 'until',
            head: 'Opens until',
            cell: (invitation) => <Moment at={invitation.expiresAt} timeZone={timeZone} locale={locale} />,
          },
          {
            key: 'withdraw',
            head: 'Withdraw',
            hideHead: true,
            phoneLabel: '',
            cell: (invitation) => (
              <PostButton
                furniture={furniture}
                action={`/people/invitations/${invitation.key}/withdraw`}
                label="Withdraw"
                kind="quiet"
                ariaLabel={`Withdraw the invitation for ${invitation.name}`}
              />
            ),
          },
        ]}
      />
    </section>
  );
}
