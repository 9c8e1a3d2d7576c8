import { useState } from 'react'
import { fixOf } from '../../../core/checks/register/check.ts'
import { type Group, groups } from '../../../core/checks/register/groups.ts'
import { registerLimit } from '../../../core/checks/register/tolerance.ts'
import { setMisfit, setRegister } from '../../../core/job/edit-checks.ts'
import { registerFrom } from '../../../core/job/register.ts'
import { Pick } from '../../panels/Choice.tsx'
import { AskLine } from '../../panels/checks/pictures/AskLine.tsx'
import { MisfitFields } from '../../panels/checks/pictures/MisfitFields.tsx'
import { SliverTable } from '../../panels/checks/pictures/SliverTable.tsx'
import { measured, pairWords } from '../../panels/checks/pictures/words.ts'
import { isOld, makePicture, picturesOf, stopPicture } from '../../state/pictures.ts'
import { useMotions } from '../../state/register.ts'
import { shownStrips, worstFirst } from '../../state/slips.ts'
import { decide, settle } from '../../state/steps.ts'
import { useStore } from '../../state/store.ts'
import type { PictureProps } from './picture-props.ts'
import '../../style/pictures.css'

/** Groups of plates that are moved by hand, and what then shows, joined to the state. */
export function RegisterPictures({ desk, job }: PictureProps) {
  const { store } = desk
  const pictures = picturesOf(store)
  const made = useStore(pictures, all => all.slips)
  const unmarked = useStore(pictures, all => all.unmarked)
  const motions = useMotions(job)
  const [group, setGroup] = useState<Group>('white')
  const [wanted, setWanted] = useState('')
  const old = isOld('slips', made, job)
  const picture = old ? null : made.value
  const worst = picture === null ? [] : worstFirst(picture)
  const chosen = worst.find(one => one.pair.join(' ') === wanted) ?? worst[0]
  const limit = (key: 'register.visible' | 'register.trap') => registerLimit(key, job.limits).value
  const still = Object.keys(job.register).length === 0
  return (
    <>
      <MisfitFields
        register={job.register}
        groups={groups.filter(one => one !== 'die' || job.carton !== null)}
        group={group}
        onGroup={setGroup}
        onChange={(change, field) =>
          store.set(now => decide(now, setMisfit(group, change), `misfit ${group} ${field}`))
        }
        onSettle={() => store.set(settle)}
      />
      <div className="actions">
        <button
          type="button"
          className="plain small edged"
          disabled={still}
          onClick={() => store.set(now => decide(now, setRegister({})))}
        >
          As printed well
        </button>
        {chosen?.worst == null ? null : (
          <button
            type="button"
            className="plain small edged"
            onClick={() => {
              const { motions: slip } = chosen.worst!
              store.set(now => decide(now, setRegister(registerFrom(slip))))
            }}
          >
            At tolerance, worst
          </button>
        )}
      </div>
      {chosen?.worst == null ? null : (
        <>
          <Pick
            label="Worst of which fit"
            value={chosen.pair.join(' ')}
            options={worst.map(({ pair }) => ({ value: pair.join(' '), title: pairWords(pair) }))}
            onChange={setWanted}
          />
          <p className="quiet">
            At worst up to {measured(chosen.worst.areaMm2, 'mm²')} show at one place,{' '}
            {chosen.worst.widestMm.toFixed(2)} mm wide; on {Math.round(100 * chosen.worst.noticed)} of 100
            cartons it is wide enough there to be noticed.
          </p>
        </>
      )}
      {picture !== null && picture.pairs.length > 0 && worst.length === 0 ? (
        <p>Within tolerance nothing shows that is wide enough to be noticed.</p>
      ) : null}
      <AskLine
        ask="Find what shows"
        made={made}
        there={made.value !== null}
        old={old}
        onAsk={() => void makePicture(desk, 'slips')}
        onStop={() => stopPicture(desk, 'slips')}
      />
      {picture === null ? null : picture.pairs.length === 0 ? (
        <p>The job has no two groups of plates that have to fit.</p>
      ) : (
        <SliverTable
          shown={shownStrips(picture, motions, job.panel)}
          unmarked={unmarked}
          visibleMm={limit('register.visible')}
          mend={({ pair, strips }) => fixOf(pair, Math.max(limit('register.trap'), strips.widestMm))}
          onMark={(name, on) =>
            pictures.set(now => ({
              ...now,
              unmarked: on ? now.unmarked.filter(one => one !== name) : [...now.unmarked, name],
            }))
          }
        />
      )}
    </>
  )
}
