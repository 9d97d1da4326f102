import { deviceWords } from '../../shared/people/device.ts';
import { OwnCalendar, type OwnCalendarProps } from '../calendar/part-own-calendar.tsx';
import { Actions, Button, PostButton } from '../layout/button.tsx';
import { FilledFrom } from '../layout/filled-from.tsx';
import { ChoiceField, ErrorSummary, Field, Form, type FormState, fieldOf } from '../layout/form.tsx';
import type { Furniture } from '../layout/furniture.ts';
import { Moment } from '../layout/number.tsx';
import { Shell } from '../layout/shell.tsx';
import { DataTable } from '../layout/table.tsx';
import { PasswordFields } from './part-password-fields.tsx';
import { roleWords } from './words.ts';

export type OwnSession = { id: string; madeAt: number; usedAt: number; device: string; isThis: boolean };

export type AccountPageProps = {
  furniture: Furniture;
  who: { name: string; signInName: string; role: 'owner' | 'helper' };
  own: FormState;
  password: FormState;
  sessions: readonly OwnSession[];
  /** Whether a code from the phone is asked for at sign-in. */
  hasCode: boolean;
  calendar: OwnCalendarProps['calendar'];
  timeZone: string;
  locale: string;
};

const ownWords = { name: 'Your name', scheme: 'Colours' };
const schemes = [
  { value: 'system', label: 'As the device', help: 'light by day, dark by night, if it does so' },
  { value: 'light', label: 'Light' },
  { value: 'dark', label: 'Dark', help: 'for the night round' },
];

export function AccountPage(props: AccountPageProps) {
  const { furniture, who, own, password } = props;
  return (
    <Shell
      furniture={furniture}
      title="Your account"
      purpose={`Your name, password, code and open sessions. ${roleWords[who.role]}, signed in as ${who.signInName}.`}
    >
      <section aria-labelledby="own-title">
        <h2 id="own-title">You</h2>
        <Form furniture={furniture} action="/account" keyPart="own">
          <FilledFrom form={own} words={ownWords} choices={{ scheme: schemes }} />
          <ErrorSummary errors={own.errors} labels={ownWords} />
          <Field
            label="Your name"
            autocomplete="name"
            required
            maxLength={120}
            help="As the others see it."
            {...fieldOf(own, 'name')}
          />
          <ChoiceField label="Colours" options={schemes} {...fieldOf(own, 'scheme')} />
          <Actions>
            <Button kind="main">Save</Button>
          </Actions>
        </Form>
      </section>
      <section aria-labelledby="password-title">
        <h2 id="password-title">Password</h2>
        <PasswordForm furniture={furniture} form={password} signInName={who.signInName} />
      </section>
      <section aria-labelledby="code-title">
        <h2 id="code-title">A code at sign-in</h2>
        <p>
          {props.hasCode
            ? 'On: besides your password you are asked for a code from your phone.'
            : 'Off. With a code from your phone, a password that somebody saw is not enough to get in.'}{' '}
          <a href="/account/second-factor">
            {props.hasCode ? 'Recovery codes, or turn it off' : 'Set it up'}
          </a>
        </p>
      </section>
      <OwnCalendar {...props} />
      <OwnSessions {...props} />
    </Shell>
  );
}

function PasswordForm(props: { furniture: Furniture; form: FormState; signInName: string }) {
  const { furniture, form, signInName } = props;
  return (
    <Form furniture={furniture} action="/account/password" keyPart="password">
      <ErrorSummary
        errors={form.errors}
        title="Not changed yet. What to mend:"
        labels={{ current: 'Password now', password: 'New password', again: 'New password once more' }}
      />
      <input type="text" name="signInName" value={signInName} autoComplete="username" readOnly hidden />
      <Field
        label="Password now"
        type="password"
        autocomplete="current-password"
        required
        maxLength={1000}
        {...fieldOf(form, 'current')}
        value={null}
      />
      <PasswordFields form={form} label="New password" />
      <p class="quiet">Your other sessions end when the password changes.</p>
      <Actions>
        <Button>Change the password</Button>
      </Actions>
    </Form>
  );
}

function OwnSessions({ furniture, sessions, timeZone, locale }: AccountPageProps) {
  const others = sessions.filter((session) => !session.isThis).length;
  return (
    <section aria-labelledby="sessions-title">
      <h2 id="sessions-title">Where you are signed in</h2>
      <DataTable
        caption="Where you are signed in"
        hideCaption
        rows={sessions}
        rowKey={(session) => session.id}
        columns={[
          {
            key: 'device',
            head: 'Device',
            phoneWide: true,
            cell: (session) => (
              <>
                {deviceWords(session.device)}
                {session.isThis && ' (this one)'}
              </>
            ),
          },
          {
            key: 'since',
            head: 'Signed in',
            cell: (session) => <Moment at={session.madeAt} timeZone={timeZone} locale={locale} />,
          },
          {
            key: 'used',
            head: 'Last visit',
            cell: (session) => <Moment at={session.usedAt} timeZone={timeZone} locale={locale} />,
          },
          {
            key: 'end',
            head: 'End it',
            hideHead: true,
            phoneLabel: '',
            cell: (session) => (
              <PostButton
                furniture={furniture}
                action={`/account/sessions/${session.id}/end`}
                label={session.isThis ? 'Sign out here' : 'End'}
                kind="quiet"
                ariaLabel={session.isThis ? undefined : `End the session of ${deviceWords(session.device)}`}
              />
            ),
          },
        ]}
      />
      {others > 0 && (
        <PostButton
          furniture={furniture}
          action="/account/sessions/end-others"
          label={others === 1 ? 'End the other session' : `End the ${others} other sessions`}
        />
      )}
    </section>
  );
}
