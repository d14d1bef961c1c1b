import type { LocalDate } from '../../../kernel/src/index.ts';
import type { Prisma } from '../../generated/client.ts';
import type { Tx } from '../database.ts';

/** New values of a visit that is there already. */
export interface VisitUpdate {
  readonly id: string;
  readonly crew: string;
  readonly state: 'planned' | 'cancelled';
  readonly startDay: LocalDate;
  readonly endDay: LocalDate;
  readonly releaseDay: LocalDate;
  readonly deliveryDay: LocalDate | null;
  readonly fromBase: boolean;
  readonly sequence: number;
}

export interface AssignmentUpdate {
  readonly id: string;
  readonly role: string;
  readonly fromDay: LocalDate;
  readonly toDay: LocalDate;
  readonly state: 'asked' | 'cancelled';
  readonly icalSequence: number;
}

export interface HoldUpdate {
  readonly id: string;
  readonly fromDay: LocalDate;
  readonly toDay: LocalDate;
  readonly state: string;
}

/** The rows of one publishing, collected and then written table by table: a season is some thousand of them. */
export interface Batch {
  readonly newVisits: Prisma.VisitCreateManyInput[];
  readonly visits: VisitUpdate[];
  /** Visits that stay as they are and only belong to the new plan. */
  readonly keptVisits: string[];
  /** Visits whose days are written anew. */
  readonly clearedDays: string[];
  readonly days: Prisma.VisitDayCreateManyInput[];
  readonly newAssignments: Prisma.AssignmentCreateManyInput[];
  readonly assignments: AssignmentUpdate[];
  readonly newLiftHolds: Prisma.LiftHoldCreateManyInput[];
  readonly liftHolds: HoldUpdate[];
  readonly newEquipmentHolds: Prisma.EquipmentHoldCreateManyInput[];
  readonly equipmentHolds: HoldUpdate[];
  /** Assignments and lift holds whose links end. */
  readonly endedLinks: string[];
}

export function emptyBatch(): Batch {
  return {
    newVisits: [],
    visits: [],
    keptVisits: [],
    clearedDays: [],
    days: [],
    newAssignments: [],
    assignments: [],
    newLiftHolds: [],
    liftHolds: [],
    newEquipmentHolds: [],
    equipmentHolds: [],
    endedLinks: [],
  };
}

/** Writes the batch. The caller has deferred the constraints, so the order among visits does not matter. */
export async function writeBatch(tx: Tx, planId: string, batch: Batch): Promise<void> {
  await tx.visit.createMany({ data: batch.newVisits });
  await updateVisits(tx, planId, batch.visits);
  await tx.visit.updateMany({ where: { id: { in: batch.keptVisits } }, data: { planId } });
  await tx.visitDay.deleteMany({ where: { visitId: { in: batch.clearedDays } } });
  await tx.visitDay.createMany({ data: batch.days });
  await tx.assignment.createMany({ data: batch.newAssignments });
  await updateAssignments(tx, batch.assignments);
  await tx.liftHold.createMany({ data: batch.newLiftHolds });
  await updateLiftHolds(tx, batch.liftHolds);
  await tx.equipmentHold.createMany({ data: batch.newEquipmentHolds });
  await updateEquipmentHolds(tx, batch.equipmentHolds);
  await tx.actionLink.updateMany({
    where: { subjectId: { in: batch.endedLinks }, revokedAt: null },
    data: { revokedAt: new Date() },
  });
}

async function updateVisits(tx: Tx, planId: string, rows: readonly VisitUpdate[]): Promise<void> {
  if (rows.length === 0) return;
  await tx.$executeRaw`
    UPDATE visits AS v SET plan_id = ${planId}::uuid, crew = n.crew, state = n.state, start_day = n."startDay",
      end_day = n."endDay", release_day = n."releaseDay", delivery_day = n."deliveryDay", from_base = n."fromBase",
      sequence = n.sequence, cancelled_at = CASE n.state WHEN 'cancelled' THEN now() END
    FROM jsonb_to_recordset(${JSON.stringify(rows)}::jsonb) AS n(id uuid, crew text, state text, "startDay" date,
      "endDay" date, "releaseDay" date, "deliveryDay" date, "fromBase" boolean, sequence int)
    WHERE v.id = n.id`;
}

/** Who is asked again has not answered yet; of who is called off the last answer is kept. */
async function updateAssignments(tx: Tx, rows: readonly AssignmentUpdate[]): Promise<void> {
  if (rows.length === 0) return;
  await tx.$executeRaw`
    UPDATE assignments AS a SET role = n.role, from_day = n."fromDay", to_day = n."toDay", state = n.state,
      ical_sequence = n."icalSequence",
      answered_at = CASE n.state WHEN 'cancelled' THEN a.answered_at END,
      answer_note = CASE n.state WHEN 'cancelled' THEN a.answer_note END
    FROM jsonb_to_recordset(${JSON.stringify(rows)}::jsonb)
      AS n(id uuid, role text, "fromDay" date, "toDay" date, state text, "icalSequence" int)
    WHERE a.id = n.id`;
}

async function updateLiftHolds(tx: Tx, rows: readonly HoldUpdate[]): Promise<void> {
  if (rows.length === 0) return;
  await tx.$executeRaw`
    UPDATE lift_holds AS h SET from_day = n."fromDay", to_day = n."toDay", state = n.state,
      answered_at = CASE n.state WHEN 'off' THEN h.answered_at END,
      reference = CASE n.state WHEN 'off' THEN h.reference END
    FROM jsonb_to_recordset(${JSON.stringify(rows)}::jsonb) AS n(id uuid, "fromDay" date, "toDay" date, state text)
    WHERE h.id = n.id`;
}

async function updateEquipmentHolds(tx: Tx, rows: readonly HoldUpdate[]): Promise<void> {
  if (rows.length === 0) return;
  await tx.$executeRaw`
    UPDATE equipment_holds AS h SET from_day = n."fromDay", to_day = n."toDay", state = n.state
    FROM jsonb_to_recordset(${JSON.stringify(rows)}::jsonb) AS n(id uuid, "fromDay" date, "toDay" date, state text)
    WHERE h.id = n.id`;
}
