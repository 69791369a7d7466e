import { type CheckRow, typedTable } from "./check-table";

const rows = typedTable(
  "statistics/ref/logrank.csv",
  `
test,group,obs,exp,V11,chisq,df,p
gehan,treat=6-MP,9,19.250500948,6.256960574,16.792940989,1,4.168809109e-05
gehan,treat=control,21,10.749499052,6.256960574,16.792940989,1,4.168809109e-05
gehan Peto,treat=6-MP,5.12151464,11.9985596771,3.271304909,14.457150819,1,0.0001433844448
gehan Peto,treat=control,14.55285169,7.6758066545,3.271304909,14.457150819,1,0.0001433844448
aml,x=Maintained,7,10.6893359923,4.007550746,3.396388699,1,0.06533932204
aml,x=Nonmaintained,11,7.3106640077,4.007550746,3.396388699,1,0.06533932204
lung sex,sex=1,112,91.5817390296,40.37143398,10.326741955,1,0.00131116452
lung sex,sex=2,53,73.4182609704,40.37143398,10.326741955,1,0.00131116452
lung ph.ecog (4 groups),ph.ecog=0,37,54.1526970189,35.827693706,21.962131682,3,6.642535356e-05
lung ph.ecog (4 groups),ph.ecog=1,82,83.5275645751,35.827693706,21.962131682,3,6.642535356e-05
lung ph.ecog (4 groups),ph.ecog=2,44,26.1473530653,35.827693706,21.962131682,3,6.642535356e-05
lung ph.ecog (4 groups),ph.ecog=3,1,0.1723853407,35.827693706,21.962131682,3,6.642535356e-05
veteran celltype (4 groups),celltype=squamous,31,47.6546776725,26.338406367,25.403700346,3,1.271245939e-05
veteran celltype (4 groups),celltype=smallcell,45,30.1020793268,26.338406367,25.403700346,3,1.271245939e-05
veteran celltype (4 groups),celltype=adeno,26,15.6937646144,26.338406367,25.403700346,3,1.271245939e-05
veteran celltype (4 groups),celltype=large,26,34.5494783863,26.338406367,25.403700346,3,1.271245939e-05
`,
);

/** Groups of one test: observed, expected, variance of the first, chi-square and p. Source: R 4.2.2, survival 3.5-3, survdiff. */
export function logRankRows(test: string): CheckRow[] {
  const found = rows.filter((row) => row.test === test);
  if (found.length < 2) throw new Error(`no test ${test}`);
  return found;
}
