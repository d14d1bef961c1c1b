import type { Language } from '../../language.ts';
import { brief, briefTerms } from './brief.ts';
import { crew } from './crew.ts';
import { customer } from './customer.ts';
import { office } from './office.ts';
import { partner } from './partner.ts';

export const english: Language = {
  tag: 'en',
  direction: 'ltr',
  greeting: 'Hello {{to.name}},',
  closing: 'Kind regards,\n{{firm.name}}',
  phoneLabel: 'Phone',
  mailLabel: 'Mail',
  cautionLead: 'Please read before the work',
  cautions: {
    lifting:
      'Lifting: our figures are planning aids. The manufacturer’s load chart, the site’s own assessment and local law come first, and a competent person on site decides whether to lift.',
    wind: 'Wind: our figures and forecasts are planning aids. The limits of the lift’s and the load’s makers come first. The person in charge of the lift measures the wind on site and decides.',
    electricity:
      'Electricity: only a licensed electrician may connect power. Isolate and prove dead before any wiring; local law comes first.',
    height:
      'Work at height: our plan does not replace the site’s own assessment. Local law comes first, and a competent person decides how the work is made safe.',
    driving:
      'Driving: our travel times are estimates. The law on driving and rest times comes first. If you are tired, stop; we will move the work.',
    fatigue:
      'Rest: our hours are planning aids. Local law on working hours and rest comes first. Say so if you are not rested; we will move the work.',
  },
  terms: {
    'kind.survey': 'survey visit',
    'kind.build': 'build',
    'kind.return': 'return visit for snags',
    'kind.service': 'yearly service',
    'work.outside': 'outside work',
    'work.inside': 'inside work',
    'proof.none': 'just tell us when it is done',
    'proof.photo': 'send us a photo',
    'proof.measurement': 'send us the measured value',
    'proof.document': 'send us the paper',
    'about.lift': 'lift',
    'about.delivery': 'delivery',
    'role.crew': 'crew',
    'role.customer': 'customer',
    'role.partner': 'partner',
    'known.metres': '{value} m',
    'unknown.metres': 'not known yet; please ask us before you choose the machine',
    'known.gust': '{value} m/s',
    'unknown.gust': 'not known yet; the lower of your machine’s and our load’s limit will hold',
    'known.longest': 'longest piece {value} m',
    'unknown.longest': 'longest piece not known yet',
    'answer.yes': 'Yes',
    'answer.no': 'No',
    'answer.other-date': 'Another date, please',
    ...briefTerms,
  },
  rangeTo: 'to',
  templates: { ...crew, ...customer, ...partner, ...office, ...brief },
};
