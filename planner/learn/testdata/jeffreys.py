"""Jeffreys intervals (Beta(k + 1/2, n - k + 1/2), 95%) by statsmodels, for learn_test.go.

python3 -m pip install statsmodels==0.15.0 scipy==1.17.1 && python3 jeffreys.py > jeffreys.csv
"""
from statsmodels.stats.proportion import proportion_confint

print("held,of,low,high")
for n in (1, 2, 3, 5, 10, 14, 50, 400):
    for k in sorted({0, 1, n // 3, n // 2, (2 * n) // 3, n - 1, n} | ({9} if n == 14 else set())):
        if 0 <= k <= n:
            low, high = proportion_confint(k, n, alpha=0.05, method="jeffreys")
            print(f"{k},{n},{low:.9f},{high:.9f}")
