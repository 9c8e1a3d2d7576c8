import { useMemo } from 'react'
import { barsOf } from '../../../core/checks/accounting/bars.ts'
import { AccountBars } from '../../panels/checks/pictures/AccountBars.tsx'
import { AskLine } from '../../panels/checks/pictures/AskLine.tsx'
import { isOld, makePicture, picturesOf, stopPicture } from '../../state/pictures.ts'
import { useStore } from '../../state/store.ts'
import type { PictureProps } from './picture-props.ts'
import '../../style/pictures.css'

/** Where the holography goes, joined to the state. */
export function AccountPictures({ desk, job }: PictureProps) {
  const made = useStore(picturesOf(desk.store), all => all.account)
  const { value, of } = made
  const bars = useMemo(() => (value === null ? null : barsOf(value)), [value])
  return (
    <>
      <AskLine
        ask="Count the holography"
        made={made}
        there={of !== null}
        old={isOld('account', made, job)}
        onAsk={() => void makePicture(desk, 'account')}
        onStop={() => stopPicture(desk, 'account')}
      />
      {bars !== null ? (
        <AccountBars bars={bars} />
      ) : of === null ? null : (
        <p>Nothing is counted without a lamp to judge by.</p>
      )}
    </>
  )
}
