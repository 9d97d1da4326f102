import { Actions, Button, PostButton } from '../layout/button.tsx';
import { ErrorSummary, Field, Form, type FormState, fieldOf } from '../layout/form.tsx';
import type { Furniture } from '../layout/furniture.ts';
import { Moment } from '../layout/number.tsx';
import { Shell } from '../layout/shell.tsx';

export type SecondFactorPageProps = {
  furniture: Furniture;
  /** When it was turned on; null while it is not. */
  since: number | null;
  /** What is scanned or typed into the app while it is being set up. */
  open: { picture: string; secret: string } | null;
  codesLeft: number;
  mustHave: boolean;
  form: FormState;
  timeZone: string;
  locale: string;
};

export function SecondFactorPage(props: SecondFactorPageProps) {
  const { furniture, since, open, mustHave } = props;
  return (
    <Shell
      furniture={furniture}
      title="A code at sign-in"
      breadcrumbs={[{ href: '/account', label: 'Your account' }]}
      purpose="A password can be seen or guessed. With a code from your phone beside it, that is not enough to get in."
    >
      {mustHave && since === null && (
        <p>
          <strong>Your business asks for this code.</strong> Set it up now; everything else opens afterwards.
        </p>
      )}
      {since !== null && <IsOn {...props} since={since} />}
      {since === null && open && <SetUp {...props} open={open} />}
      {since === null && !open && (
        <>
          <p>
            You need an app on your phone that shows six-digit codes (TOTP). Many phones and password managers
            have one already.
          </p>
          <PostButton
            furniture={furniture}
            action="/account/second-factor/start"
            label="Set up a code"
            kind="main"
          />
        </>
      )}
    </Shell>
  );
}

function SetUp({
  furniture,
  open,
  form,
}: SecondFactorPageProps & { open: { picture: string; secret: string } }) {
  return (
    <>
      <h2>1. Scan this with the app</h2>
      <p>
        <img src={open.picture} alt="QR code with the secret written below" class="scan" />
      </p>
      <p>
        On the same phone, or without a camera, type this secret instead:{' '}
        <code class="secret">{open.secret}</code>
      </p>
      <h2>2. Type what it shows</h2>
      <Form furniture={furniture} action="/account/second-factor" keyPart="confirm">
        <ErrorSummary
          errors={form.errors}
          title="Not turned on yet."
          labels={{ code: 'Code', password: 'Your password' }}
        />
        <CodeField form={form} help="Six digits. It changes every half minute." />
        <Field
          label="Your password"
          type="password"
          autocomplete="current-password"
          required
          maxLength={1000}
          {...fieldOf(form, 'password')}
          value={null}
        />
        <p class="quiet">Your other sessions end when the code is turned on.</p>
        <Actions>
          <Button kind="main">Turn it on</Button>
        </Actions>
      </Form>
      <PostButton
        furniture={furniture}
        action="/account/second-factor/start"
        label="Start again with another secret"
        kind="quiet"
      />
    </>
  );
}

const CodeField = ({ form, help }: { form: FormState; help: string }) => (
  <Field
    label="Code"
    autocomplete="one-time-code"
    required
    maxLength={100}
    help={help}
    {...fieldOf(form, 'code')}
    value={null}
  />
);

function IsOn(props: SecondFactorPageProps & { since: number }) {
  const { furniture, since, codesLeft, mustHave, form, timeZone, locale } = props;
  return (
    <>
      <p>
        It is on since <Moment at={since} timeZone={timeZone} locale={locale} />.{' '}
        {codesLeft === 1 ? '1 recovery code is' : `${codesLeft} recovery codes are`} left.
      </p>
      <Form furniture={furniture} action="/account/second-factor/codes" keyPart="codes">
        <ErrorSummary errors={form.errors} title="Nothing is changed yet." labels={{ code: 'Code' }} />
        <CodeField
          form={form}
          help="From the phone, or a recovery code. For a new phone turn it off and set it up again."
        />
        <Actions>
          <Button kind="main">Make new recovery codes</Button>
          {!mustHave && (
            <Button kind="harm" formAction="/account/second-factor/stop">
              Turn it off
            </Button>
          )}
        </Actions>
      </Form>
      {mustHave && (
        <p class="quiet">
          Your business asks for the code, so it stays. For a new phone ask an owner to take the old one off.
        </p>
      )}
    </>
  );
}
