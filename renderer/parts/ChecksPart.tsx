import { Suspense, useId, useMemo } from 'react'
import { BadInput } from '../../core/base/finding.ts'
import type { CheckFinding, CheckName, Remedy } from '../../core/checks/finding.ts'
import { limitsByCheck } from '../../core/checks/known-limits.ts'
import { type MarkedArea, markedBox } from '../../core/checks/marked.ts'
import {
  clearLimit,
  putMark,
  removeMark,
  renameMark,
  setLimit,
  unwaive,
  waive,
} from '../../core/job/edit-checks.ts'
import type { Job } from '../../core/job/job.ts'
import { applyRemedy } from '../../core/job/remedies.ts'
import { Choice } from '../panels/Choice.tsx'
import { Caution } from '../panels/checks/Caution.tsx'
import { FirstLook } from '../panels/checks/FirstLook.tsx'
import { FoundList } from '../panels/checks/FoundList.tsx'
import { LimitGroups } from '../panels/checks/LimitGroups.tsx'
import { MarkList } from '../panels/checks/MarkList.tsx'
import { RunLine } from '../panels/checks/RunLine.tsx'
import { SectionNote } from '../panels/checks/SectionNote.tsx'
import { sectionWords } from '../panels/checks/words.ts'
import type { Workshop } from '../scene/workshop.ts'
import { cancelChecks, listNow, outdated, runChecks } from '../state/checks.ts'
import { markMiddle, startMarking } from '../state/marks.ts'
import type { Desk } from '../state/open.ts'
import { showPlace } from '../state/shown.ts'
import { type ChecksSection, type ChecksView, checksSections, inView, type State } from '../state/state.ts'
import { decide, settle } from '../state/steps.ts'
import { report, say } from '../state/work.ts'
import { pictures } from './checks/pictures.ts'
import '../style/checks.css'

interface Props {
  readonly desk: Desk
  readonly state: State
  readonly job: Job
  readonly workshop: Workshop
}

/** Checks whose pictures a section has. */
const checksOf: Readonly<Partial<Record<ChecksSection, readonly CheckName[]>>> = {
  register: ['register'],
  light: ['legibility', 'glare'],
  white: ['white'],
  account: ['accounting'],
}

/** The sheet of checks joined to the state. */
export function ChecksPart({ desk, state, job, workshop }: Props) {
  const { store } = desk
  const { checks } = state.session
  const view = state.view.checks
  const id = useId()
  const list = useMemo(() => listNow(checks, job.waivers), [checks, job.waivers])
  const old = outdated(checks, job)
  const shown = state.view.shown?.key ?? null
  const look = (change: Partial<ChecksView>): void =>
    store.set(now => inView(now, { checks: { ...now.view.checks, limit: null, ...change } }))
  const edit = (change: (job: Job) => Job, gesture: string | null = null): void =>
    store.set(now => decide(now, change, gesture))
  const Pictures = pictures[view.section]
  return (
    <div className="checks-page">
      <RunLine
        sums={list?.sums ?? null}
        old={old}
        running={checks.running}
        failed={checks.failed}
        onRun={() => void runChecks(desk)}
        onCancel={() => cancelChecks(desk)}
      />
      <Choice
        label="Part of the sheet"
        value={view.section}
        options={checksSections.map(value => ({ value, title: sectionWords[value] }))}
        onChange={section => look({ section })}
      />
      <section aria-labelledby={id} className={`checks-${view.section}`}>
        <h3 id={id} className="unseen">
          {sectionWords[view.section]}
        </h3>
        {view.section === 'list' ? found() : null}
        {view.section === 'marks' ? (
          <MarkList
            marked={job.marked}
            shown={shown}
            onDraw={(kind, tool) => store.set(now => startMarking(now, kind, tool))}
            onMiddle={kind => store.set(now => markMiddle(now, kind))}
            onShow={showMark}
            onChange={(area, gesture) => edit(putMark(area), gesture)}
            onRename={(name, next) => edit(renameMark(name, next))}
            onRemove={name => edit(removeMark(name))}
            onSettle={() => store.set(settle)}
          />
        ) : null}
        {view.section === 'limits' ? (
          <LimitGroups
            known={limitsByCheck}
            own={job.limits}
            asked={view.limit}
            onSet={(key, value, note) => edit(setLimit(key, value, note))}
            onUsual={key => edit(clearLimit(key))}
          />
        ) : null}
        {checksOf[view.section] === undefined ? null : (
          <SectionNote
            checks={checksOf[view.section] ?? []}
            list={list}
            onFindings={check => look({ section: 'list', check, severity: 'all' })}
          />
        )}
        {Pictures === undefined ? null : (
          <Suspense>
            <Pictures desk={desk} state={state} job={job} workshop={workshop} list={list} old={old} />
          </Suspense>
        )}
      </section>
      <Caution />
    </div>
  )

  function found() {
    if (list === null) return <FirstLook />
    return (
      <FoundList
        list={list}
        view={view}
        shown={shown}
        by={job.waivers.at(-1)?.by ?? ''}
        onView={look}
        onShow={show}
        onWaive={(key, reason, by) => edit(waive({ key, reason, by, on: today() }))}
        onUnwaive={key => edit(unwaive(key))}
        onDropUnused={() => edit(now => list.unused.reduce((left, one) => unwaive(one.key)(left), now))}
        onMend={mend}
      />
    )
  }

  function mend(remedy: Remedy): void {
    try {
      const mended = applyRemedy(job, remedy)
      if (mended === job) say(store, 'The job has nothing left there that this could change.')
      else edit(now => applyRemedy(now, remedy))
    } catch (error) {
      if (!(error instanceof BadInput)) throw error
      report(store, error)
    }
  }

  function show({ key, where, box, held }: CheckFinding): void {
    if (box !== null) store.set(now => showPlace(now, { key, title: where, box, held }))
  }

  function showMark(area: MarkedArea): void {
    const box = markedBox(area)
    if (box !== null) store.set(now => showPlace(now, { key: area.name, title: area.name, box, held: null }))
  }
}

/** The day by the user's own clock, as 2026-03-31. */
function today(): string {
  const now = new Date()
  const two = (n: number): string => String(n).padStart(2, '0')
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`
}
