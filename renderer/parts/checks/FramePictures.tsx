import { useEffect, useMemo, useRef, useState } from 'react'
import type { Job } from '../../../core/job/job.ts'
import { sceneWith } from '../../../core/job/scene.ts'
import { wholeView, type Zoom } from '../../../core/reference/camera.ts'
import { AskLine } from '../../panels/checks/pictures/AskLine.tsx'
import { FrameCards } from '../../panels/checks/pictures/FrameCards.tsx'
import { frameOrder } from '../../panels/checks/pictures/frame-words.ts'
import { zoomOn } from '../../scene/zoom-on.ts'
import { lookAt } from '../../stage/place.ts'
import {
  areFramesOf,
  drawFrames,
  type FrameFinding,
  frameKey,
  frameSide,
  framesOf,
  isFrame,
  screenKey,
} from '../../state/frames.ts'
import { goBack, showPlace } from '../../state/shown.ts'
import { useStore } from '../../state/store.ts'
import type { PictureProps } from './picture-props.ts'
import '../../style/frames.css'

/** An edit that goes on is waited for, ms. */
const restMs = 300

/** The brightest, darkest and most colourful frames that the glare check found, drawn while they are looked at. */
export function FramePictures({ desk, state, job, list, old }: PictureProps) {
  const { store } = desk
  const frames = useStore(framesOf(store), all => all)
  const found = useMemo((): readonly FrameFinding[] => {
    const all = list === null || old ? [] : list.findings.filter(isFrame)
    return all.sort((a, b) => rank(a) - rank(b))
  }, [list, old])
  const current = areFramesOf(frames, job)
  const pictureOf = (finding: FrameFinding) => (current ? (frames.made.get(frameKey(finding)) ?? null) : null)
  /** Whoever stops the work, or asks again, does so for these pictures. */
  const wanted = [...found.map(frameKey), screenKey(job)].join('\n')
  const [asked, setAsked] = useState({ wanted, stopped: false })
  const stopped = asked.wanted === wanted && asked.stopped
  const work = useRef<AbortController | null>(null)
  // biome-ignore lint/correctness/useExhaustiveDependencies: `wanted` says which findings, of which state of the job
  useEffect(() => {
    if (found.length === 0 || stopped) return
    const own = new AbortController()
    work.current = own
    const rest = setTimeout(() => void drawFrames(desk, found, zoomOf, own.signal), restMs)
    return () => {
      clearTimeout(rest)
      own.abort()
    }
  }, [wanted, asked, stopped])
  if (list === null || !list.ran.includes('glare')) return null
  const subjects = [...new Set(found.map(subjectOf))]
  const there = found.every(one => pictureOf(one) !== null)
  return (
    <>
      <h4>Brightest, darkest, most colourful</h4>
      {old ? (
        <p className="quiet">The job was changed since: these frames come with the next run of the checks.</p>
      ) : found.length === 0 ? (
        <p className="quiet">Held in no way does the carton show any of the art.</p>
      ) : (
        <AskLine
          ask="Draw the frames"
          made={frames}
          there={there}
          old={false}
          onAsk={() => setAsked({ wanted, stopped: false })}
          onStop={() => {
            setAsked({ wanted, stopped: true })
            work.current?.abort()
          }}
        />
      )}
      {subjects.map(subject => {
        const own = found.filter(one => subjectOf(one) === subject)
        return (
          <FrameCards
            key={subject}
            name={own[0]!.where}
            findings={own}
            pictureOf={pictureOf}
            shown={state.view.shown?.key ?? null}
            onShow={({ key, where, box, held }) =>
              store.set(now => showPlace(now, { key, title: where, box, held }))
            }
            onBack={() => store.set(goBack)}
          />
        )
      })}
    </>
  )
}

/** Keys of a subject's frames end alike. */
const subjectOf = ({ key }: FrameFinding): string => key.slice(key.indexOf(' ') + 1)
const ofCarton = (one: FrameFinding): boolean => subjectOf(one) === 'carton'

/** The whole carton first; of each subject as the words order them. */
const rank = (one: FrameFinding): number => (ofCarton(one) ? 0 : 10) + frameOrder.indexOf(one.code)

/** Part of the picture that an area fills; a small one keeps enough around it to be known again. */
const fills = 0.8
const closest = 4

/** The whole carton as it lies in the middle of the table, or the area where the carton shows it. */
function zoomOf(job: Job, finding: FrameFinding): Zoom {
  if (ofCarton(finding)) return wholeView
  const { box, held } = finding
  const scene = sceneWith(job, job.light.lamps[0].pose, held)
  const zoom = zoomOn(lookAt(scene, job.panel, wholeView, frameSide, frameSide), box, 0, fills)
  return zoom === null ? wholeView : { ...zoom, scale: Math.min(closest, zoom.scale) }
}
