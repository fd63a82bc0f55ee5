import { demoPatientId } from './ward.js';

/** Places to open first, relative to the service; each looks at the week told, never at today's empty ward. */
export function demoLinks(): readonly { readonly href: string; readonly label: string }[] {
  const week = 'date=ge2026-03-02T07:00:00-05:00&date=lt2026-03-09T07:00:00-04:00';
  return [
    {
      href: `/patients/${demoPatientId('P10')}/trends?item=grip&side=right`,
      label: 'a right grip that falls through the week',
    },
    {
      href: `/patients/${demoPatientId('P04')}/trends?item=knee.flexion&side=left`,
      label: 'a left knee that bent further, then less',
    },
    {
      href: `/fhir/Observation?patient=${demoPatientId('P04')}&code=https://limbledger.example/fhir/CodeSystem/msk-observable|circumference&${week}&_sort=date`,
      label: 'its circumference in FHIR',
    },
    {
      href: `/fhir/Observation?patient=${demoPatientId('P03')}&status=entered-in-error&${week}`,
      label: 'findings taken back from the wrong side',
    },
    {
      href: '/fhir/Observation?status=final&-laterality=http://snomed.info/sct|24028007&date=2026-03-05',
      label: 'right-sided findings of Thursday 5 March 2026',
    },
    { href: '/fhir/Patient?_sort=_id', label: 'the patients' },
  ];
}
