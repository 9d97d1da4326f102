import helmet from '@fastify/helmet';
import type { FastifyInstance } from 'fastify';

/** Nothing is loaded from elsewhere and no script stands in a page. TLS-only headers only where there is TLS. */
export async function sendSafeHeaders(app: FastifyInstance, tls: boolean) {
  await app.register(helmet, {
    global: true,
    contentSecurityPolicy: {
      useDefaults: false,
      directives: {
        defaultSrc: ["'none'"],
        scriptSrc: ["'self'"],
        styleSrc: ["'self'"],
        imgSrc: ["'self'", 'data:'],
        fontSrc: ["'self'"],
        connectSrc: ["'self'"],
        formAction: ["'self'"],
        manifestSrc: ["'self'"],
        baseUri: ["'none'"],
        frameAncestors: ["'none'"],
      },
    },
    hsts: tls ? { maxAge: 31_536_000, includeSubDomains: false } : false,
    frameguard: { action: 'deny' },
    // Not no-referrer: browsers would then call the origin of our own forms null, and on plain http (a home
    // network) they say nothing else about where a form comes from. Nothing is told to other sites either way.
    referrerPolicy: { policy: 'same-origin' },
    crossOriginOpenerPolicy: { policy: 'same-origin' },
    crossOriginResourcePolicy: { policy: 'same-origin' },
  });
  app.addHook('onSend', async (_request, reply) => {
    if (!reply.hasHeader('cache-control')) reply.header('cache-control', 'no-store');
    // A search engine finds what the owner lets it find, and nothing by chance.
    if (!reply.hasHeader('x-robots-tag')) reply.header('x-robots-tag', 'noindex, nofollow');
  });
}
