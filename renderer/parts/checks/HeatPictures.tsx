import { useState } from 'react'
import { Choice } from '../../panels/Choice.tsx'
import { AskLine } from '../../panels/checks/pictures/AskLine.tsx'
import {
  type HeatPart,
  HeatTable,
  heatParts,
  heatWords,
  LightHeat,
} from '../../panels/checks/pictures/LightHeat.tsx'
import { isOld, makePicture, picturesOf, stopPicture } from '../../state/pictures.ts'
import { useStore } from '../../state/store.ts'
import type { PictureProps } from './picture-props.ts'

/** Where the art is bright and dark over all views, joined to the state. */
export function HeatPictures({ desk, job }: PictureProps) {
  const made = useStore(picturesOf(desk.store), all => all.heat)
  const { value } = made
  const [part, setPart] = useState<HeatPart>('mean')
  return (
    <>
      <h4>Light of every place</h4>
      <AskLine
        ask="Tilt every place"
        made={made}
        there={value !== null}
        old={isOld('heat', made, job)}
        onAsk={() => void makePicture(desk, 'heat')}
        onStop={() => stopPicture(desk, 'heat')}
      />
      {value === null ? null : (
        <>
          <Choice
            label="Light over all views"
            value={part}
            options={heatParts.map(value => ({ value, title: heatWords[value] }))}
            onChange={setPart}
          />
          <LightHeat heat={value} part={part} />
          <HeatTable heat={value} />
        </>
      )}
    </>
  )
}
