import { setPrint } from '../../core/job/edit.ts'
import { choose, type Desk } from './open.ts'
import { decide } from './steps.ts'
import { report } from './work.ts'

/** Lets the user choose the profile of the print condition; once it is read and found fit, the job names it. */
export async function chooseProfile(desk: Desk): Promise<void> {
  try {
    const picked = await choose(desk, 'profile')
    if (picked === null) return
    const { file } = await desk.host('addProfile', { fileId: picked.id })
    desk.store.set(state => decide(state, setPrint({ profile: file })))
  } catch (error) {
    report(desk.store, error)
  }
}
