import { isIP } from 'node:net';

/** Whether a host is this machine itself, so that nothing said to it can be read on the way. */
export const isLoopback = (host: string) => /^(localhost|127(\.\d{1,3}){3}|::1)$/.test(host);

/** An IP address, or a net of them: 127.0.0.1, 172.30.0.0/24, fd00::/8. Everybody at once (/0) is no net to trust. */
export function isAddressOrNet(text: string): boolean {
  const [address = '', bits, ...more] = text.split('/');
  const version = isIP(address);
  if (version === 0 || more.length > 0) return false;
  return bits === undefined || (/^[1-9]\d{0,2}$/.test(bits) && Number(bits) <= (version === 4 ? 32 : 128));
}
