export PYTHONUNBUFFERED=1 TOKENIZERS_PARALLELISM=false OMP_NUM_THREADS=1
cd training
go() { HINTS=${3:-0} timeout 540 python3 train.py /tmp/out$1 --config "$2" >$OUT/$1.log 2>&1 & }
go joint '{"epochs":9,"workers":2}'
go blocks '{"epochs":9,"workers":2,"blocks":true}'
go pairs '{"epochs":4,"workers":2,"pairs":true,"size":24}'
go hints '{"epochs":9,"workers":2,"blocks":true}' 2
go fast '{"epochs":9,"workers":2,"blocks":true,"rate":0.0002}'
wait
for f in $OUT/*.log; do echo "== $f"; grep -A3 "^epoch" $f; tail -2 $f; done
