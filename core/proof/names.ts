/** What stands beside a job on the disk. */
const endings = {
  proof: '.proof.html',
  sheet: '.proof.pdf',
  versions: '.versions.json',
  notes: '.notes.json',
  signoff: '.signoff.json',
  printed: '.signoff.pdf',
} as const

/** The name of what belongs to a job: `comet.job.json` has `comet.notes.json`. */
export function besideJob(jobName: string, what: keyof typeof endings): string {
  return `${jobStem(jobName)}${endings[what]}`
}

/** A job's name without the ending of its file. */
export const jobStem = (jobName: string): string => jobName.replace(/(\.job)?\.json$/i, '')

/** The same as a name that every system takes for a file. */
export function fileStem(jobName: string): string {
  const plain = [...jobStem(jobName)].map(sign => (sign < ' ' || '\\/:*?"<>|'.includes(sign) ? '-' : sign))
  return plain.join('').slice(0, 120) || 'carton'
}

/** Stands on everything that goes out. */
export const proofLabel = 'Virtual appearance proof (not a contract proof)'
