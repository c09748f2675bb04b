# Compares settings side by side on one GPU: bash training/compare.sh
export PYTHONUNBUFFERED=1 TOKENIZERS_PARALLELISM=false OMP_NUM_THREADS=1
cd training
go() { timeout 560 python3 train.py /tmp/out$1 --config "$2" >$OUT/$1.log 2>&1 & }
go crit '{"epochs":11,"workers":2,"rate":0.0002}'
go reject '{"epochs":11,"workers":2,"rate":0.0002,"rejects":1}'
go vary '{"epochs":11,"workers":2,"rate":0.0002,"rejects":2,"vary":true}'
go three '{"epochs":11,"workers":2,"rate":0.0002,"hints":3,"rejects":1,"vary":true}'
go deep '{"epochs":11,"workers":2,"rate":0.0002,"rejects":1,"layers":[0,1,1,2,3,3,4,5,5]}'
wait
for f in $OUT/*.log; do echo "== $f"; grep -A3 "^epoch" $f; tail -2 $f; done
