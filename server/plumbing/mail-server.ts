import { z } from 'zod';
import { isLoopback } from './loopback.ts';

/** The server that takes the letters of this service, and as whom. */
export type MailServer = {
  host: string;
  port: number;
  encryption: 'tls' | 'starttls' | 'none';
  user: string;
  password: string;
  /** Certificates to trust besides the usual ones, as PEM; null for none. */
  trust: string | null;
  /** The address that letters come from; null for the business's own. */
  from: string | null;
};

export const mailSettings = {
  SMTP_HOST: z.string().min(1).optional(),
  SMTP_PORT: z.coerce.number().int().min(1).max(65535).default(587),
  SMTP_ENCRYPTION: z.enum(['tls', 'starttls', 'none']).default('starttls'),
  SMTP_USER: z.string().default(''),
  SMTP_PASSWORD: z.string().default(''),
  SMTP_TRUST: z.string().startsWith('-----BEGIN CERTIFICATE-----').optional(),
  MAIL_FROM: z.email().optional(),
};

type MailSettings = z.infer<z.ZodObject<typeof mailSettings>>;

/** The mail server, null where none is named, or in words what is wrong with it. */
export function mailServerOf(e: MailSettings): MailServer | null | string {
  if (!e.SMTP_HOST) return null;
  if (e.SMTP_ENCRYPTION === 'none' && !isLoopback(e.SMTP_HOST))
    return `SMTP_ENCRYPTION=none lets everybody on the way to ${e.SMTP_HOST} read the letters and the password. Use starttls or tls; none is for a mail server on this machine.`;
  if (e.SMTP_USER !== '' && e.SMTP_PASSWORD === '')
    return 'SMTP_USER is set, but not SMTP_PASSWORD (or SMTP_PASSWORD_FILE, the path of a file that holds it).';
  return {
    host: e.SMTP_HOST,
    port: e.SMTP_PORT,
    encryption: e.SMTP_ENCRYPTION,
    user: e.SMTP_USER,
    password: e.SMTP_PASSWORD,
    trust: e.SMTP_TRUST ?? null,
    from: e.MAIL_FROM ?? null,
  };
}
