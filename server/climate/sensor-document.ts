import { z } from 'zod';
import { MOST_SENT, sentReadings } from '../../shared/climate/reading-form.ts';

const fault = {
  description: 'What is wrong, in words',
  content: { 'application/problem+json': { schema: { $ref: '#/components/schemas/Problem' } } },
};

const problem = {
  type: 'object',
  required: ['title', 'status', 'faults', 'requestId'],
  properties: {
    title: { type: 'string' },
    status: { type: 'integer' },
    faults: {
      type: 'array',
      items: {
        type: 'object',
        required: ['path', 'message'],
        properties: { path: { type: 'string' }, message: { type: 'string' } },
      },
    },
    requestId: { type: 'string', description: 'By which the owner finds this request in the log' },
  },
};

const taken = {
  type: 'object',
  required: ['added', 'alreadyThere'],
  properties: {
    added: { type: 'integer' },
    alreadyThere: {
      type: 'integer',
      description: 'Also readings of days that are summed up, of which single ones are kept no more.',
    },
  },
};

const sendReadings = {
  operationId: 'sendReadings',
  summary: 'Send readings',
  security: [{ token: [] }],
  requestBody: {
    required: true,
    content: { 'application/json': { schema: { $ref: '#/components/schemas/Readings' } } },
  },
  responses: {
    '200': {
      description: 'Taken',
      content: { 'application/json': { schema: { $ref: '#/components/schemas/Taken' } } },
    },
    '400': fault,
    '401': fault,
    '413': fault,
    '415': fault,
    '429': fault,
  },
};

/** The OpenAPI description of what a sensor may send (OpenAPI 3.1). */
export function sensorDocument(base: string) {
  return {
    openapi: '3.1.0',
    info: {
      title: 'Climate readings',
      version: '1',
      description: `Readings of the air of a room or shelf, sent by a sensor with a token of its own. One at a time, or up to ${MOST_SENT} that were kept back. The same reading sent twice is kept once.`,
    },
    servers: [{ url: base }],
    paths: { '/api/climate': { post: sendReadings } },
    components: {
      securitySchemes: { token: { type: 'http', scheme: 'bearer' } },
      schemas: { Readings: z.toJSONSchema(sentReadings, { io: 'input' }), Taken: taken, Problem: problem },
    },
  };
}
