import type { PageFiles } from './state/open.ts'

const accepted = { art: '.psd,.psb', job: '.json', any: '.psd,.psb,.json' } as const

/** File picking and downloading as a page can do it. */
export const pageFiles: PageFiles = {
  pick: what =>
    new Promise(resolve => {
      const input = document.createElement('input')
      input.type = 'file'
      input.accept = accepted[what]
      input.addEventListener('change', () => resolve(input.files?.[0] ?? null))
      input.addEventListener('cancel', () => resolve(null))
      input.click()
    }),
  download(name, text) {
    const link = document.createElement('a')
    link.download = name
    link.href = URL.createObjectURL(new Blob([text], { type: 'application/json' }))
    link.click()
    // The browser has taken the address over by the next task at the latest; a minute is generous.
    setTimeout(() => URL.revokeObjectURL(link.href), 60_000)
  },
}
