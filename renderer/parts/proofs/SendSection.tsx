import type { ComponentType } from 'react'
import { lookAtProofs, proofsOf, type SendKind, sendKinds } from '../../state/proofs.ts'
import { stopSending } from '../../state/sending.ts'
import { useStore } from '../../state/store.ts'
import { MovieSend } from './MovieSend.tsx'
import { PageSend } from './PageSend.tsx'
import { PicturesSend } from './PicturesSend.tsx'
import { PlatesSend } from './PlatesSend.tsx'
import type { SectionProps, SendProps } from './props.ts'
import { SheetSend } from './SheetSend.tsx'

const cards: Readonly<Record<SendKind, ComponentType<SendProps>>> = {
  page: PageSend,
  movie: MovieSend,
  pictures: PicturesSend,
  plates: PlatesSend,
  sheet: SheetSend,
}

/** Everything that can be sent out, one under the other. */
export function SendSection(props: SectionProps) {
  const { store } = props.desk
  const { sending } = useStore(proofsOf(store), all => all)
  const open = props.state.view.proofs.send
  return (
    <ul className="sends">
      {sendKinds.map(kind => {
        const Card = cards[kind]
        return (
          <Card
            key={kind}
            {...props}
            card={{
              open: open === kind,
              sending: sending[kind],
              onOpen: next => store.set(now => lookAtProofs(now, { send: next ? kind : null })),
              onCancel: () => stopSending(store, kind),
            }}
          />
        )
      })}
    </ul>
  )
}
