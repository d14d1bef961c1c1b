import type { ReactNode } from 'react';
import { api, take } from '../../api/client.ts';
import { useLoaded } from '../../api/use-loaded.ts';
import { longDate } from '../../format/dates.ts';
import { Caution } from '../../parts/caution.tsx';
import { Loading } from '../../parts/loading.tsx';
import { State } from '../../parts/state.tsx';
import { responsibleWords } from '../../words/message-words.ts';

/** A customer's jobs: when the crew comes and what must be ready by when. Answers go by the links in the messages. */
export function CustomerScreen(): ReactNode {
  const jobs = useLoaded('my jobs', (signal) => take(api.GET('/api/v1/my/jobs', { signal })));
  return (
    <>
      <h1>Getting ready</h1>
      <p className="lead">To say that something is ready, use the link in the message that asked for it.</p>
      <Loading from={jobs} what="your jobs">
        {({ items }) =>
          items.length === 0 ? (
            <p>Nothing is planned at your sites now.</p>
          ) : (
            <ul className="todo-list">
              {items.map((job) => (
                <li key={`${job.season} ${job.key}`}>
                  <h2 className="first-head">{job.title}</h2>
                  <p>
                    {job.startDay
                      ? `The crew starts on ${longDate(job.startDay)}.`
                      : 'No day has been set yet.'}
                    {job.promisedBy && ` Promised by ${longDate(job.promisedBy)}.`}
                  </p>
                  <ul className="tight">
                    {job.readiness.map((item) => (
                      <li key={item.key}>
                        {item.title}: <State of="readiness" state={item.state} />, seen to by{' '}
                        {responsibleWords(item.responsible)}
                        {item.dueOn && `, by ${longDate(item.dueOn)}`}
                      </li>
                    ))}
                  </ul>
                </li>
              ))}
            </ul>
          )
        }
      </Loading>
      <Caution about={['lifting', 'electricity']} />
    </>
  );
}
