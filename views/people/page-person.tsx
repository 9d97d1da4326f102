import { deviceWords } from '../../shared/people/device.ts';
import { Actions, Button, PostButton } from '../layout/button.tsx';
import { Facts } from '../layout/facts.tsx';
import { FilledFrom } from '../layout/filled-from.tsx';
import { ChoiceField, Form, type FormState, fieldOf } from '../layout/form.tsx';
import type { Furniture } from '../layout/furniture.ts';
import { Moment } from '../layout/number.tsx';
import { Shell } from '../layout/shell.tsx';
import { stateOf } from './page-people.tsx';
import { roleChoices, roleWords } from './words.ts';

export type PersonPageProps = {
  furniture: Furniture;
  person: {
    id: string;
    name: string;
    signInName: string;
    role: 'owner' | 'helper';
    active: boolean;
    waitsForPassword: boolean;
    madeAt: number;
  };
  role: FormState;
  hasCode: boolean;
  isSelf: boolean;
  isLastOwner: boolean;
  sessions: readonly { id: string; madeAt: number; usedAt: number; device: string }[];
  timeZone: string;
  locale: string;
};

export function PersonPage(props: PersonPageProps) {
  const { furniture, person, sessions, timeZone, locale, isSelf } = props;
  return (
    <Shell
      furniture={furniture}
      title={person.name}
      breadcrumbs={[{ href: '/people', label: 'People' }]}
      purpose={`What they may do here, and their way in. ${roleWords[person.role]}, signs in as ${person.signInName}.`}
    >
      <Facts
        items={[
          { term: 'State', value: stateOf(person) },
          { term: 'Here since', value: <Moment at={person.madeAt} timeZone={timeZone} locale={locale} /> },
          { term: 'Code at sign-in', value: props.hasCode ? 'On' : 'Off' },
          {
            term: 'Open sessions',
            value:
              sessions.length === 0
                ? 'none'
                : sessions.map((session) => (
                    <div key={session.id}>
                      {deviceWords(session.device)}, signed in{' '}
                      <Moment at={session.madeAt} timeZone={timeZone} locale={locale} />, last visit{' '}
                      <Moment at={session.usedAt} timeZone={timeZone} locale={locale} />
                    </div>
                  )),
          },
        ]}
      />
      <RoleSection {...props} />
      {isSelf ? (
        <p>
          Your own password and sessions are on <a href="/account">your account page</a>.
        </p>
      ) : (
        person.active && <AccessSection {...props} />
      )}
      <ActiveSection {...props} />
    </Shell>
  );
}

function RoleSection({ furniture, person, role, isLastOwner }: PersonPageProps) {
  return (
    <section aria-labelledby="role-title">
      <h2 id="role-title">Role</h2>
      {isLastOwner ? (
        <p>{person.name} is the only active owner, so the role stays until somebody else is an owner too.</p>
      ) : (
        <Form furniture={furniture} action={`/people/${person.id}/role`} keyPart="role">
          <FilledFrom form={role} words={{ role: 'Role' }} choices={{ role: roleChoices }} />
          <ChoiceField label="Role" hideLabel options={roleChoices} {...fieldOf(role, 'role')} />
          <p class="quiet">A changed role ends all sessions of {person.name}; they sign in anew.</p>
          <Actions>
            <Button>Change the role</Button>
          </Actions>
        </Form>
      )}
    </section>
  );
}

function AccessSection({ furniture, person, sessions, hasCode }: PersonPageProps) {
  return (
    <section aria-labelledby="access-title">
      <h2 id="access-title">Password and sessions</h2>
      <p>
        A reset makes a one-time link for a new password. The old password stops at once and all sessions of{' '}
        {person.name} end; a code at sign-in stays.
      </p>
      <Actions>
        <PostButton furniture={furniture} action={`/people/${person.id}/reset`} label="Reset the password" />
        {hasCode && (
          <PostButton
            furniture={furniture}
            action={`/people/${person.id}/second-factor/remove`}
            label="Lost phone: take the code off"
          />
        )}
        {sessions.length > 0 && (
          <PostButton
            furniture={furniture}
            action={`/people/${person.id}/end-sessions`}
            label="End all sessions"
          />
        )}
      </Actions>
    </section>
  );
}

function ActiveSection({ furniture, person, isLastOwner }: PersonPageProps) {
  if (isLastOwner) return null;
  return (
    <section aria-labelledby="active-title">
      <h2 id="active-title">{person.active ? 'Leaving' : 'Coming back'}</h2>
      <p>
        {person.active
          ? `When ${person.name} no longer works here: the account stops at once, what they wrote stays under their name.`
          : `${person.name} cannot sign in. Activated again, the account works as before.`}
      </p>
      <PostButton
        furniture={furniture}
        action={`/people/${person.id}/${person.active ? 'deactivate' : 'activate'}`}
        label={person.active ? 'Deactivate the account' : 'Activate the account'}
        kind={person.active ? 'harm' : 'plain'}
      />
    </section>
  );
}
