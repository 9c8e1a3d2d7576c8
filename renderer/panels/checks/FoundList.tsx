import { useCallback, useState } from 'react'
import type { CheckFinding, CheckName, Remedy } from '../../../core/checks/finding.ts'
import type { CheckList, ListedFinding } from '../../../core/checks/run.ts'
import type { ChecksView } from '../../state/state.ts'
import { Choice, Pick } from '../Choice.tsx'
import { FoundItem } from './FoundItem.tsx'
import { checkWords, severityWords } from './words.ts'

interface Props {
  readonly list: CheckList
  readonly view: ChecksView
  /** Key of the finding whose place is shown. */
  readonly shown: string | null
  /** Who waived last: a name is typed once. */
  readonly by: string
  readonly onView: (view: Partial<ChecksView>) => void
  readonly onShow: (finding: CheckFinding) => void
  readonly onWaive: (key: string, reason: string, by: string) => void
  readonly onUnwaive: (key: string) => void
  readonly onDropUnused: () => void
  readonly onMend: (remedy: Remedy) => void
}

/** Everything that was found, worst first, by check and by how bad it is. */
export function FoundList(props: Props) {
  const { list, view } = props
  const ofCheck = list.findings.filter(one => view.check === 'all' || one.check === view.check)
  const seen = ofCheck.filter(one => view.severity === 'all' || gradeOf(one) === view.severity)
  const count = (grade: Grade): number => ofCheck.filter(one => gradeOf(one) === grade).length
  const [moved, setMoved] = useState<string | null>(null)
  const onView = (change: Partial<ChecksView>): void => {
    setMoved(null)
    props.onView(change)
  }
  const onFollowed = useCallback(() => setMoved(null), [])
  const silent = list.ran.filter(name => !list.findings.some(one => one.check === name))
  return (
    <div className="found">
      {list.findings.length === 0 ? null : (
        <>
          <Choice
            label="How bad"
            value={view.severity}
            options={[
              { value: 'all', title: `All ${ofCheck.length}` },
              { value: 'error', title: `Wrong ${count('error')}`, says: severityWords.error },
              { value: 'warning', title: `Look ${count('warning')}`, says: severityWords.warning },
              { value: 'note', title: `Know ${count('note')}`, says: severityWords.note },
              { value: 'waived', title: `Waived ${count('waived')}`, says: 'Somebody let it stand' },
            ]}
            onChange={severity => onView({ severity })}
          />
          <Pick
            label="Found by"
            value={view.check}
            options={[
              { value: 'all', title: `every check (${list.findings.length})` },
              ...namesIn(list).map(name => ({
                value: name,
                title: `${checkWords[name].title} (${list.findings.filter(one => one.check === name).length})`,
              })),
            ]}
            onChange={check => onView({ check })}
          />
        </>
      )}
      {list.findings.length > 0 && seen.length === 0 ? <p>None of that kind.</p> : null}
      {grades.map(grade => (
        <Graded
          key={`${grade} ${view.check}`}
          {...props}
          moved={moved}
          onFollowed={onFollowed}
          onWaive={(key, reason, by) => {
            props.onWaive(key, reason, by)
            setMoved(key)
          }}
          onUnwaive={key => {
            props.onUnwaive(key)
            setMoved(key)
          }}
          grade={grade}
          these={seen.filter(one => gradeOf(one) === grade)}
        />
      ))}
      {silent.length === 0 ? null : (
        <p className="quiet">Nothing found by: {silent.map(name => checkWords[name].title).join(', ')}.</p>
      )}
      {list.unused.length === 0 ? null : (
        <section className="findings">
          <h3>
            Waivers that nothing needs any more <span className="quiet">{list.unused.length}</span>
          </h3>
          <ul>
            {list.unused.map(({ key, reason, by, on }) => (
              <li key={key}>
                <p>{key}</p>
                <p className="quiet">
                  {by}, {on}: {reason}
                </p>
              </li>
            ))}
          </ul>
          <button type="button" className="plain small edged" onClick={props.onDropUnused}>
            Take them out of the job
          </button>
        </section>
      )}
    </div>
  )
}

interface GradedProps extends Props {
  /** Key of the finding that has just come from another part of the list. */
  readonly moved: string | null
  readonly onFollowed: () => void
  readonly grade: Grade
  readonly these: readonly ListedFinding[]
}

/** Findings of one kind; of very many the first, and the next when asked. */
function Graded({ grade, these, ...props }: GradedProps) {
  const [most, setMost] = useState(atOnce)
  if (these.length === 0) return null
  return (
    <section className="findings">
      <h3>
        {gradeWords[grade]} <span className="quiet">{these.length}</span>
      </h3>
      <ul>
        {these.slice(0, most).map(finding => (
          <FoundItem
            key={finding.key}
            finding={finding}
            {...props}
            shown={props.shown === finding.key}
            moved={props.moved === finding.key}
          />
        ))}
      </ul>
      {these.length <= most ? null : (
        <button type="button" className="plain small edged" onClick={() => setMost(most + atOnce)}>
          Show the next {Math.min(atOnce, these.length - most)} of {these.length}
        </button>
      )}
    </section>
  )
}

const atOnce = 100

type Grade = CheckFinding['severity'] | 'waived'
const grades: readonly Grade[] = ['error', 'warning', 'note', 'waived']
const gradeWords: Readonly<Record<Grade, string>> = { ...severityWords, waived: 'Waived' }

const gradeOf = ({ severity, waiver }: ListedFinding): Grade => (waiver === null ? severity : 'waived')

const namesIn = ({ findings }: CheckList): readonly CheckName[] => [
  ...new Set(findings.map(one => one.check)),
]
