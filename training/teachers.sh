# Trains four readers side by side that differ by chance alone: bash training/teachers.sh SECONDS [READER]. Stays on the
# machine. They begin at the base weights, or at the weights of READER (a .safetensors file) for a further generation.
begin=$([ -z "$2" ] || realpath "$2")
export PYTHONUNBUFFERED=1 TOKENIZERS_PARALLELISM=false OMP_NUM_THREADS=1
cd training
rm -rf /tmp/try && timeout 60 python3 train.py /tmp/try --config '{"limit":200,"seconds":6,"workers":2}' >$OUT/try.log 2>&1 || { cat $OUT/try.log; exit 1; }
for seed in 1 2 3 4; do
    python3 train.py /tmp/teacher$seed --config "{\"seed\":$seed,\"epochs\":99,\"seconds\":$1,\"workers\":3,\"report\":4,\"begin\":\"$begin\"}" >$OUT/$seed.log 2>&1 &
done
wait
cp /tmp/teacher1/reader-*.safetensors $OUT
for f in $OUT/?.log; do echo "== $f"; tail -9 $f; done
ls -la $OUT
