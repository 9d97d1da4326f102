/** Whether a host is this machine itself, so that nothing said to it can be read on the way. */
export const isLoopback = (host: string) => /^(localhost|127(\.\d{1,3}){3}|::1)$/.test(host);
