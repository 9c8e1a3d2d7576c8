import { useMemo, useState } from 'react'
import type { TypeResult } from '../../../core/checks/legibility/result.ts'
import { AskLine } from '../../panels/checks/pictures/AskLine.tsx'
import { TypeList } from '../../panels/checks/pictures/TypeList.tsx'
import { TypeMap } from '../../panels/checks/pictures/TypeMap.tsx'
import { isOld, makePicture, picturesOf, stopPicture } from '../../state/pictures.ts'
import { showPlace } from '../../state/shown.ts'
import { useStore } from '../../state/store.ts'
import type { PictureProps } from './picture-props.ts'
import '../../style/pictures.css'

/** How type reads over all views, joined to the state. */
export function TypePictures({ desk, job }: PictureProps) {
  const made = useStore(picturesOf(desk.store), all => all.type)
  const { value } = made
  const objects = useMemo(() => [...(value?.objects ?? [])].sort((a, b) => heatOf(b) - heatOf(a)), [value])
  const [wanted, setWanted] = useState<string | null>(null)
  const chosen = objects.some(one => one.key === wanted) ? wanted : null
  return (
    <>
      <h4>Type over all views</h4>
      <AskLine
        ask="Read the type in all views"
        made={made}
        there={value !== null}
        old={isOld('type', made, job)}
        onAsk={() => void makePicture(desk, 'type')}
        onStop={() => stopPicture(desk, 'type')}
      />
      {value === null ? null : objects.length === 0 ? (
        <p>
          The art has no text and no outlined type. Type that is pixels among others can be marked under
          Marks.
        </p>
      ) : (
        <>
          <TypeMap
            widthMm={job.panel.widthMm}
            heightMm={job.panel.heightMm}
            objects={objects}
            chosen={chosen}
          />
          <TypeList objects={objects} chosen={chosen} onChoose={setWanted} onWorst={showWorst} />
          {value.leftOut === 0 ? null : <p>{value.leftOut} more pieces of type were not judged.</p>}
        </>
      )}
    </>
  )

  function showWorst({ key, name, box, read }: TypeResult): void {
    const worst = read?.contrast?.worst
    const held = worst === undefined ? null : (value?.views[worst]?.pose ?? null)
    desk.store.set(now => showPlace(now, { key, title: name, box, held }))
  }
}

/** What cannot be judged comes last. */
const heatOf = ({ heat }: TypeResult): number => heat ?? -1
