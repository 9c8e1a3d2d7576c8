import { useEffect } from 'react'
import { everywhereAction, type KeyAction, tableAction } from './keys.ts'
import { shownTheme, type Theme } from './state/theme.ts'

/** What the window does beyond its own elements: keys, brightness, title, and the word before it closes. */

/** Keys that mean the same wherever the focus is. */
export function useKeys(act: (action: KeyAction) => void): void {
  useEffect(() => {
    const keyed = (event: KeyboardEvent): void => {
      const action = event.defaultPrevented ? null : (everywhereAction(event) ?? looseAction(event))
      if (action === null) return
      if (action.do !== 'close') event.preventDefault()
      act(action)
    }
    window.addEventListener('keydown', keyed)
    return () => window.removeEventListener('keydown', keyed)
  })
}

/** With nothing in focus the table listens. */
const looseAction = (event: KeyboardEvent): KeyAction | null =>
  event.target === document.body ? tableAction(event) : null

/** Asks before the window goes away with unsaved decisions. */
export function useGuard(hasUnsaved: () => boolean): void {
  useEffect(() => {
    const leaving = (event: BeforeUnloadEvent): void => {
      if (hasUnsaved()) event.preventDefault()
    }
    window.addEventListener('beforeunload', leaving)
    return () => window.removeEventListener('beforeunload', leaving)
  })
}

/** The window's brightness follows the choice, and the system where that is the choice. */
export function useTheme(theme: Theme): void {
  useEffect(() => {
    const dark = matchMedia('(prefers-color-scheme: dark)')
    const follow = () => {
      document.documentElement.dataset.theme = shownTheme(theme, dark.matches)
    }
    follow()
    dark.addEventListener('change', follow)
    return () => dark.removeEventListener('change', follow)
  }, [theme])
}

export function useTitle(name: string | null, changed: boolean): void {
  useEffect(() => {
    document.title = name === null ? 'rakelight' : `${changed ? '• ' : ''}${name} – rakelight`
  }, [name, changed])
}
