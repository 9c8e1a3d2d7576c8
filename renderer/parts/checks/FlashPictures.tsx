import { useMemo, useState } from 'react'
import { setStanding, setView } from '../../../core/job/edit.ts'
import { Pick } from '../../panels/Choice.tsx'
import { AskLine } from '../../panels/checks/pictures/AskLine.tsx'
import { FlashPolar } from '../../panels/checks/pictures/FlashPolar.tsx'
import { FlashTable } from '../../panels/checks/pictures/FlashTable.tsx'
import { eyeWords, lampWords, timesPaper } from '../../panels/checks/pictures/flash-words.ts'
import { LampTable } from '../../panels/checks/pictures/LampTable.tsx'
import { shown } from '../../panels/NumberField.tsx'
import { Slide } from '../../panels/Slide.tsx'
import { flashFrom, type LampFlash, panelFlashes } from '../../state/flashes.ts'
import { isOld, makePicture, picturesOf, stopPicture } from '../../state/pictures.ts'
import { decide } from '../../state/steps.ts'
import { useStore } from '../../state/store.ts'
import type { PictureProps } from './picture-props.ts'
import '../../style/pictures.css'

/** Which panel lights up under which lamp, joined to the state. */
export function FlashPictures({ desk, job }: PictureProps) {
  const { store } = desk
  const made = useStore(picturesOf(store), all => all.flashes)
  const { value } = made
  const [eye, setEye] = useState({ sideDeg: 0, riseDeg: 0 })
  const panels = useMemo(() => (value === null ? [] : panelFlashes(value, eye)), [value, eye])
  const [wanted, setWanted] = useState('')
  const chosen = panels.find(one => one.panel === wanted) ?? panels[0]
  return (
    <>
      <h4>Flashes by lamp place</h4>
      <AskLine
        ask="Find the flashes of each panel"
        made={made}
        there={value !== null}
        old={isOld('flashes', made, job)}
        onAsk={() => void makePicture(desk, 'flashes')}
        onStop={() => stopPicture(desk, 'flashes')}
      />
      {value === null ? null : chosen === undefined ? (
        <p>No panel shows any of the art.</p>
      ) : (
        <>
          {panels.length > 1 ? (
            <Pick
              label="Panel"
              value={chosen.panel}
              options={panels.map(({ panel }) => ({ value: panel, title: panel }))}
              onChange={setWanted}
            />
          ) : null}
          <FlashPolar panel={chosen.panel} lamps={chosen.lamps} />
          <LampTable panel={chosen.panel} lamps={chosen.lamps} />
          {(['sideDeg', 'riseDeg'] as const).map(key => {
            const all = (value?.eyes ?? []).map(one => one[key]).toSorted((a, b) => a - b)
            const [least = 0, most = 0] = [all[0], all.at(-1)]
            return (
              <Slide
                key={key}
                label={key === 'sideDeg' ? 'Seen from the right' : 'Seen from above'}
                value={eye[key]}
                min={least}
                max={most}
                step={all.find(deg => deg > least) === undefined ? 1 : all.find(deg => deg > least)! - least}
                says={`${shown(eye[key], 0)}°`}
                onChange={deg => setEye({ ...eye, [key]: deg })}
              />
            )
          })}
          <p role="status">
            {chosen.lamps.every(({ most }) => Number.isNaN(most))
              ? `From there the ${chosen.panel} is not seen.`
              : `From there the ${chosen.panel} flashes under ${chosen.lamps.filter(({ most }) => most >= flashFrom).length} of ${chosen.lamps.length} lamp places.`}{' '}
            {chosen.brightest === null ? '' : wordsOf(chosen.brightest)}
          </p>
          {chosen.brightest === null ? null : (
            <div className="actions">
              <button type="button" className="plain small edged" onClick={() => stand(chosen.brightest!)}>
                Put lamp and eye there
              </button>
            </div>
          )}
          <FlashTable panels={panels} chosen={chosen.panel} />
        </>
      )}
    </>
  )

  function stand({ pose, eye }: LampFlash): void {
    store.set(now =>
      decide(now, before => setView({ eyeAt: eye })(setStanding(pose, before.view.pose)(before))),
    )
  }
}

const wordsOf = ({ pose, most, eye }: LampFlash): string =>
  `Brightest of all, ${timesPaper(most)} white, with the lamp at ${lampWords(pose)}, seen ${eyeWords(eye)}.`
