import { z } from 'zod';
import {
  API,
  idSchema,
  instantSchema,
  keySchema,
  pageOf,
  pageQuery,
  secretSchema,
  versionSchema,
  writtenText,
} from './common.ts';
import { defineEndpoint, empty, formBody, json, jsonBody, page, ROLES } from './endpoint.ts';

const everybody = ROLES;
const secretPath = z.object({ token: secretSchema });
const seeOther = { description: 'Signed in: go on to the program', mediaType: null, schema: null };

export const signInPage = defineEndpoint({
  id: 'signInPage',
  method: 'GET',
  path: '/sign-in/:token',
  access: 'public',
  params: secretPath,
  responses: { 200: page('A page with one button') },
  summary: 'The page behind a sign-in link',
  description: 'Changes nothing, so that a mail scanner that opens the link does not use it up.',
  tags: ['sign-in'],
  rate: 'sign-in',
});

export const signInByPage = defineEndpoint({
  id: 'signInByPage',
  method: 'POST',
  path: '/sign-in/:token',
  access: 'public',
  params: secretPath,
  body: formBody(z.object({ mark: z.string().max(100) })),
  responses: { 303: seeOther },
  summary: 'Use up a sign-in link and get a session cookie',
  tags: ['sign-in'],
  rate: 'sign-in',
});

export const requestSignInLink = defineEndpoint({
  id: 'requestSignInLink',
  method: 'POST',
  path: `${API}/sign-in-links`,
  access: 'public',
  body: jsonBody(z.strictObject({ email: z.email().max(254) })),
  responses: { 202: json(z.object({ message: z.string() }), 'Said to everybody, known or not') },
  summary: 'Ask for a sign-in link by mail',
  description: 'The answer is the same whether the address is known or not.',
  tags: ['sign-in'],
  rate: 'sign-in',
});

const sessionCreated = z.object({ token: secretSchema, expiresAt: instantSchema }).meta({
  id: 'NewSession',
  description: 'Send the token as "Authorization: Bearer". It is shown only once.',
});

export const createSession = defineEndpoint({
  id: 'createSession',
  method: 'POST',
  path: `${API}/sessions`,
  access: 'public',
  body: jsonBody(z.strictObject({ token: secretSchema })),
  responses: { 201: json(sessionCreated, 'A session for a program') },
  summary: 'Use up a sign-in link and get a session token',
  tags: ['sign-in'],
  rate: 'sign-in',
});

export const endSession = defineEndpoint({
  id: 'endSession',
  method: 'DELETE',
  path: `${API}/sessions/current`,
  access: everybody,
  responses: { 204: empty('The session has ended') },
  summary: 'Sign out',
  tags: ['sign-in'],
});

const meSchema = z
  .object({
    userId: idSchema,
    name: z.string(),
    role: z.enum(ROLES),
    email: z.string(),
    organisation: z.object({ id: idSchema, name: z.string(), demo: z.boolean() }),
    subjectKey: z
      .string()
      .nullable()
      .meta({ description: 'The person, customer or partner that the account stands for' }),
  })
  .meta({ id: 'Me' });

export const getMe = defineEndpoint({
  id: 'getMe',
  method: 'GET',
  path: `${API}/me`,
  access: everybody,
  responses: { 200: json(meSchema, 'Who is signed in') },
  summary: 'Who is signed in',
  tags: ['sign-in'],
});

const userSchema = z
  .object({
    id: idSchema,
    name: z.string(),
    email: z.string(),
    role: z.enum(ROLES),
    subjectKey: z.string().nullable(),
    active: z.boolean(),
    createdAt: instantSchema,
    version: versionSchema,
  })
  .meta({ id: 'User' });

export const listUsers = defineEndpoint({
  id: 'listUsers',
  method: 'GET',
  path: `${API}/users`,
  access: ['manager'],
  query: z.strictObject({ ...pageQuery, role: z.enum(ROLES).optional() }),
  responses: { 200: json(pageOf(userSchema), 'A page of users') },
  summary: 'List users',
  tags: ['users'],
  paginated: true,
});

export const inviteUser = defineEndpoint({
  id: 'inviteUser',
  method: 'POST',
  path: `${API}/users`,
  access: ['manager'],
  body: jsonBody(
    z
      .strictObject({
        name: writtenText(120),
        email: z.email().max(254),
        role: z.enum(ROLES),
        subjectKey: keySchema.nullable().default(null),
      })
      .refine((user) => (user.role === 'manager') === (user.subjectKey === null), {
        path: ['subjectKey'],
        message:
          'A manager stands for nobody; every other account names the person, customer or partner that it stands for.',
      }),
  ),
  responses: { 201: json(userSchema, 'The new user; a sign-in link is on its way') },
  summary: 'Invite a user',
  tags: ['users'],
  idempotency: 'optional',
});

export const revokeUser = defineEndpoint({
  id: 'revokeUser',
  method: 'POST',
  path: `${API}/users/:userId/revoke`,
  access: ['manager'],
  params: z.object({ userId: idSchema }),
  responses: { 200: json(userSchema, 'The account is shut and all its sessions and links have ended') },
  summary: 'Shut an account',
  tags: ['users'],
  etag: 'requires',
});
