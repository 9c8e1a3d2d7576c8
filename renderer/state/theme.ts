/** How bright the window is; the table under the panel is the same in all of them. */
export const themes = ['system', 'light', 'dark'] as const
export type Theme = (typeof themes)[number]

const key = 'rakelight-theme'

/** What this machine's user chose last. */
export function keptTheme(storage: Storage): Theme {
  const kept = storage.getItem(key)
  return themes.find(one => one === kept) ?? 'system'
}

export function keepTheme(storage: Storage, theme: Theme): void {
  storage.setItem(key, theme)
}

/** Light or dark, once the system has had its say. */
export const shownTheme = (theme: Theme, systemDark: boolean): 'light' | 'dark' =>
  theme === 'system' ? (systemDark ? 'dark' : 'light') : theme
