import { type KeyboardEvent, memo, type ReactNode, useEffect, useMemo, useRef } from 'react';
import { count } from '../../format/counts.ts';
import {
  datesFromTo,
  daysFromTo,
  earlierOf,
  isWeekend,
  laterOf,
  longDate,
  monthHeads,
  spanWords,
  weekHeads,
} from '../../format/dates.ts';
import {
  chainMarks,
  lanesOf,
  MARKS,
  type Mark,
  type MarkKind,
  reachOf,
  stacked,
  stayMarks,
} from './chain.ts';
import { lateDays, type SheetJob, type SheetModel, type SheetSite } from './sheet-model.ts';

interface Props {
  readonly model: SheetModel;
  readonly chosenJob: string | null;
  readonly onChoose: (job: string) => void;
}

const DAY_PX = 26;

/** One row a site, one column a day, each job drawn as its chain. The list beside it says the same in words. */
export function SeasonSheet({ model, chosenJob, onChoose }: Props): ReactNode {
  const frame = useRef<HTMLElement>(null);
  const dates = useMemo(() => datesFromTo(model.firstDay, model.lastDay), [model.firstDay, model.lastDay]);
  const opening = openingDay(model);
  const { firstDay } = model;
  useEffect(() => {
    if (frame.current) frame.current.scrollLeft = Math.max(0, (daysFromTo(firstDay, opening) - 3) * DAY_PX);
  }, [opening, firstDay]);
  const move = (event: KeyboardEvent<HTMLElement>): void => {
    const step = { ArrowDown: 1, ArrowRight: 1, ArrowUp: -1, ArrowLeft: -1 }[event.key];
    const buttons = [...(frame.current?.querySelectorAll<HTMLButtonElement>('.stay') ?? [])];
    const at = buttons.indexOf(document.activeElement as HTMLButtonElement);
    if (step === undefined || at < 0) return;
    event.preventDefault();
    buttons[at + step]?.focus();
  };
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: a wide sheet scrolls, also by keyboard
    <section className="sheet-frame" aria-label="Season sheet" tabIndex={0} ref={frame} onKeyDown={move}>
      <div className="sheet" style={{ width: `calc(var(--site-col) + ${dates.length * DAY_PX}px)` }}>
        <SheetHeads model={model} dates={dates} />
        <ul className="sheet-rows" aria-label="Sites">
          {model.sites.map((site) => (
            <SheetRow key={site.key} site={site} model={model} chosenJob={chosenJob} onChoose={onChoose} />
          ))}
        </ul>
      </div>
    </section>
  );
}

/** Where the sheet opens: at the first visit that is not over, so that nobody begins with an empty month. */
function openingDay({ asOfDay, firstDay, sites }: SheetModel): string {
  const from = asOfDay ?? firstDay;
  const starts = sites
    .flatMap((site) => site.jobs)
    .flatMap((job) => (job.visit ? [job.visit.days] : []))
    .filter((days) => (days.at(-1)?.date ?? '') >= from)
    .map((days) => days[0]?.date as string);
  return starts.sort()[0] ?? laterOf(from, firstDay);
}

const SheetHeads = memo(function SheetHeads({
  model,
  dates,
}: {
  model: SheetModel;
  dates: readonly string[];
}) {
  const widthOf = (days: number) => ({ width: `${days * DAY_PX}px` });
  return (
    <div className="sheet-heads" aria-hidden="true">
      <div className="sheet-corner">Site</div>
      <div>
        <div className="sheet-head-line">
          {monthHeads(model.firstDay, model.lastDay).map((head) => (
            <div key={head.first} className="sheet-month" style={widthOf(head.days)}>
              <span>{head.label}</span>
            </div>
          ))}
        </div>
        <div className="sheet-head-line">
          {weekHeads(model.firstDay, model.lastDay).map((head) => (
            <div key={head.first} className="sheet-week" style={widthOf(head.days)}>
              {head.days > 1 ? head.label : ''}
            </div>
          ))}
        </div>
        <div className="sheet-head-line">
          {dates.map((date) => (
            <div key={date} className={isWeekend(date) ? 'sheet-day sheet-day-rest' : 'sheet-day'}>
              {Number(date.slice(8))}
            </div>
          ))}
        </div>
      </div>
    </div>
  );
});

interface RowProps {
  readonly site: SheetSite;
  readonly model: SheetModel;
  readonly chosenJob: string | null;
  readonly onChoose: (job: string) => void;
}

const SheetRow = memo(function SheetRow({ site, model, chosenJob, onChoose }: RowProps) {
  const lanes = lanesOf(site.jobs);
  const notPlanned = site.jobs.filter((job) => !job.visit).length;
  const offset = (date: string) => daysFromTo(model.firstDay, date) * DAY_PX;
  const within = (date: string) => date >= model.firstDay && date <= model.lastDay;
  // Monday is day 0, so the first Saturday of the sheet is so many days on.
  const firstRest = (12 - (daysFromTo('1970-01-05', model.firstDay) % 7)) % 7;
  return (
    <li className="sheet-row">
      <div className="sheet-site">
        <span className="sheet-site-name">{site.name}</span>
        {notPlanned > 0 && <span className="sheet-site-note">▲ {count(notPlanned, 'job')} not planned</span>}
      </div>
      <div
        className="sheet-lanes"
        style={{
          backgroundPositionX: `${firstRest * DAY_PX}px`,
          minHeight: `${Math.max(1, lanes.length) * 60}px`,
        }}
      >
        {site.closed
          .filter((closed) => closed.to >= model.firstDay && closed.from <= model.lastDay)
          .map((closed) => {
            const from = laterOf(closed.from, model.firstDay);
            const to = earlierOf(closed.to, model.lastDay);
            return (
              <span
                key={closed.from}
                className="sheet-closed"
                style={{ left: `${offset(from)}px`, width: `${(daysFromTo(from, to) + 1) * DAY_PX}px` }}
              >
                <span className="unseen">
                  Site closed {spanWords(closed.from, closed.to)}
                  {closed.reason && `: ${closed.reason}`}.
                </span>
                <span aria-hidden="true" className="sheet-closed-word">
                  {daysFromTo(from, to) >= 2 ? 'closed' : '×'}
                </span>
              </span>
            );
          })}
        {model.asOfDay && within(model.asOfDay) && (
          <span className="sheet-now" aria-hidden="true" style={{ left: `${offset(model.asOfDay)}px` }} />
        )}
        {lanes.map((lane, laneIndex) =>
          lane.map((job) => (
            <JobChain
              key={job.key}
              job={job}
              siteName={site.name}
              top={laneIndex * 60}
              offset={offset}
              within={within}
              chosen={chosenJob === job.key}
              onChoose={onChoose}
            />
          )),
        )}
      </div>
    </li>
  );
});

interface ChainProps {
  readonly job: SheetJob;
  readonly siteName: string;
  readonly top: number;
  readonly offset: (date: string) => number;
  readonly within: (date: string) => boolean;
  readonly chosen: boolean;
  readonly onChoose: (job: string) => void;
}

function JobChain({ job, siteName, top, offset, within, chosen, onChoose }: ChainProps): ReactNode {
  const stay = stayMarks(job);
  const shown = chainMarks(job).filter((mark) => within(mark.date));
  const reach = reachOf(job);
  const from = Math.max(0, offset(reach.from));
  const first = stay[0]?.date;
  const last = stay.at(-1)?.date;
  return (
    <>
      <span
        className="chain-line"
        aria-hidden="true"
        style={{
          top: `${top + 44}px`,
          left: `${from + DAY_PX / 2}px`,
          width: `${Math.max(0, offset(reach.to) - from)}px`,
        }}
      />
      {stacked(shown).map(({ mark, place, of }) => (
        <MarkSign
          key={`${mark.kind} ${mark.date}`}
          mark={mark}
          style={{
            top: `${top + 35 - (of > 1 ? 3 : 0) + place * 10}px`,
            left: `${offset(mark.date) + 4 + (of > 1 ? (place % 2) * 5 - 2 : 0)}px`,
          }}
        />
      ))}
      {first && last && (
        <button
          type="button"
          className="stay"
          aria-pressed={chosen}
          style={{
            top: `${top + 4}px`,
            left: `${offset(first)}px`,
            width: `${(daysFromTo(first, last) + 1) * DAY_PX}px`,
          }}
          onClick={() => onChoose(job.key)}
        >
          <span className="unseen">{visitWords(job, siteName)}</span>
          {stay.map((mark) => (
            <MarkSign
              key={mark.date}
              mark={mark}
              style={{ left: `${daysFromTo(first, mark.date) * DAY_PX + 1}px`, top: '0' }}
            />
          ))}
        </button>
      )}
    </>
  );
}

function MarkSign({ mark, style }: { mark: Mark; style: { left: string; top: string } }): ReactNode {
  return (
    <span className={`mark mark-${mark.kind}`} aria-hidden="true" style={style}>
      <span>{MARKS[mark.kind].letter}</span>
    </span>
  );
}

/** A visit in one sentence, for those who cannot see the sheet. */
export function visitWords(job: SheetJob, siteName: string): string {
  const { visit } = job;
  if (!visit) return `${job.title}, ${siteName}: not planned.`;
  const first = visit.days[0]?.date as string;
  const late = lateDays(job, daysFromTo);
  return [
    `${job.title}, ${siteName}: crew ${visit.crewName}, ${spanWords(first, visit.days.at(-1)?.date as string)}`,
    visit.days.map((day) => outsideWords(day.outside)).join(', then '),
    visit.reserve.length > 0 ? `${count(visit.reserve.length, 'reserve day')} after it` : 'no reserve day',
    visit.deliveryDay ? `goods on ${longDate(visit.deliveryDay)}` : 'no goods',
    late !== null && late > 0 ? `${count(late, 'day')} later than promised` : '',
  ]
    .filter(Boolean)
    .join('; ');
}

/** Whether a day is outside work; an unknown stays one. */
export function outsideWords(outside: boolean | null): string {
  if (outside === null) return 'not known whether outside';
  return outside ? 'outside' : 'inside';
}

const LEGEND = (Object.keys(MARKS) as MarkKind[]).filter((kind) => kind !== 'unknown');

/** What the letters and shapes stand for. */
export function SheetLegend(): ReactNode {
  return (
    <ul className="legend" aria-label="Signs on the sheet">
      {LEGEND.map((kind) => (
        <li key={kind}>
          <span className={`mark mark-still mark-${kind}`} aria-hidden="true">
            <span>{MARKS[kind].letter}</span>
          </span>
          <span>
            <span className="unseen">{MARKS[kind].letter}: </span>
            {MARKS[kind].words}
          </span>
        </li>
      ))}
      <li>
        <span className="legend-closed" aria-hidden="true" />
        <span>Site closed</span>
      </li>
    </ul>
  );
}
