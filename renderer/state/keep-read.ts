import { isRead, mannerOf } from './manner.ts'
import type { Desk } from './open.ts'

/** Reads the art again where a step back or forth changed how it is read. Returns the function that ends it. */
export function keepRead(desk: Desk): () => void {
  /** What was tried last: what fails is not tried again by itself. */
  let tried = ''
  return desk.store.listen(() => {
    const { job, session } = desk.store.get()
    if (job?.art == null || session.art === null || session.work?.blocks) return
    const wanted = mannerOf(job)
    const now = JSON.stringify([session.art.file.id, wanted])
    if (isRead(session.art.art, wanted)) tried = ''
    else if (tried !== now) {
      tried = now
      void import('./reading.ts').then(({ readAgain }) => readAgain(desk))
    }
  })
}
