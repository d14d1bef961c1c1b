import { choice, email, key, language, note, optional, phone, ref, text, zone } from './column.ts';
import { defineTable } from './table.ts';

export const customers = defineTable({
  name: 'customers',
  sheet: 'Customers',
  about: 'Who ordered a kit: schools, universities, private owners.',
  key: ['key'],
  columns: {
    key: key('Short key of the customer.'),
    name: text('Name of the customer.'),
    email: optional(email('Mail address for notices; empty means that notices are shown as not sent.')),
    phone: optional(phone('Telephone number.')),
    language: language('Language for messages.'),
    notes: optional(note('What the manager should know.')),
  },
});

export const partners = defineTable({
  name: 'partners',
  sheet: 'Partners',
  about: 'Firms that must confirm something: forwarders, hauliers, lift hire firms, lodging.',
  key: ['key'],
  columns: {
    key: key('Short key of the partner.'),
    name: text('Name of the firm.'),
    kind: choice(['forwarder', 'haulier', 'liftHire', 'lodging', 'other'], 'What the firm does for us.'),
    email: optional(email('Mail address for requests; empty means that requests are shown as not sent.')),
    phone: optional(phone('Telephone number.')),
    language: language('Language for messages.'),
    zone: optional(zone('Time zone of the firm; empty means that of the office.')),
  },
});

export const contacts = defineTable({
  name: 'contacts',
  sheet: 'Contacts',
  about: 'People at a customer or a partner.',
  key: ['key'],
  columns: {
    key: key('Short key of the contact.'),
    name: text('Name of the person.'),
    customer: optional(ref('customers', 'The customer that the person belongs to.')),
    partner: optional(ref('partners', 'The partner that the person belongs to.')),
    site: optional(ref('sites', 'The site that the person looks after; empty means all.')),
    role: optional(text('What the person does there.')),
    email: optional(email('Mail address.')),
    phone: optional(phone('Telephone number.')),
    language: optional(language('Language for messages; empty means that of the firm.')),
  },
  exactlyOneOf: [['customer', 'partner']],
});
